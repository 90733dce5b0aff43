"""People's signatures on the root of a journal: Ed25519 (RFC 8032), package ``cryptography``.

They stand in a file beside the journal, since a line about the root would change the root. Each
says who signed which root, when, and with which meaning (21 CFR 11.50), and carries the public key;
that the key is that person's is known from elsewhere.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from assistant.journal.canonical import encode
from assistant.journal.chain import Level, Problem
from assistant.journal.kept_root import check_root

__all__ = [
    "SIGNATURE_FILE",
    "SignatureError",
    "check",
    "new_key",
    "sign",
    "signatures_in",
    "with_signature",
]

SIGNATURE_FILE = "signature.json"
"""The file in the job folder, a JSON list of signatures."""

_ANEW = f"move {SIGNATURE_FILE} elsewhere, and let everybody sign the job again"

_OTHER_KIND = "the key is of another kind than Ed25519; make one"

_SIGNED = ("root", "name", "time", "meaning", "public_key")


class SignatureError(ValueError):
    """A key or a signature that cannot be used; the remedy is named."""


def new_key() -> bytes:
    """A new private key, as a PEM file holds it, without a password."""
    key = Ed25519PrivateKey.generate()
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def sign(pem: bytes, root: str, name: str, time: str, meaning: str) -> dict[str, Any]:
    """Sign a root.

    Args:
        pem: the private key, as a PEM file holds it.
        root: of the journal, 64 hexadecimal digits.
        name: who signs.
        time: when, as the journal writes it.
        meaning: with which meaning.

    Raises:
        SignatureError: the key is no Ed25519 key without a password, or the name or the meaning is
            no text that can be kept.
    """
    try:
        key = load_pem_private_key(pem, password=None)
    except (ValueError, TypeError) as error:
        raise SignatureError(f"no private key without a password ({error}); make one") from error
    except UnsupportedAlgorithm as error:
        raise SignatureError(_OTHER_KIND) from error
    if not isinstance(key, Ed25519PrivateKey):
        raise SignatureError(_OTHER_KIND)
    public = key.public_key().public_bytes_raw().hex()
    told = {"root": root, "name": name, "time": time, "meaning": meaning, "public_key": public}
    try:
        return {**told, "signature": key.sign(encode(told)).hex()}
    except ValueError as error:
        message = "not used: the name or the meaning is no UTF-8; write them in UTF-8"
        raise SignatureError(message) from error


def signatures_in(text: str) -> tuple[Any, ...]:
    """The signatures that a file holds, unjudged; one alone is as older programs wrote it.

    Raises:
        SignatureError: the text is no JSON list.
    """
    try:
        held = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise SignatureError(f"no signatures ({error}); {_ANEW}") from error
    match held:
        case list():
            return tuple(held)
        case Mapping():
            return (held,)
    raise SignatureError(f"no signatures; {_ANEW}")


def with_signature(kept: Sequence[Any], made: Mapping[str, Any]) -> list[Any]:
    """The signatures of a file with one more, which takes the place of the signer's own.

    Args:
        kept: those that it holds.
        made: by `sign`; of the same signer are those with its name and its key.
    """
    return [*(one for one in kept if _signer(one) != _signer(made)), made]


def _signer(signature: Any) -> tuple[Any, Any] | None:
    match signature:
        case {"name": name, "public_key": key}:
            return name, key
    return None


def check(signature: Any, lines: Sequence[bytes]) -> list[Problem]:
    """Check a signature against the journal that lies beside it.

    Args:
        signature: as `sign` made it.
        lines: of the journal, each with its newline.

    Returns:
        A notice where a second person's verdicts were written since; else nothing.

    Raises:
        SignatureError: it is none, or of another root, or not made with its own key.
    """
    if not isinstance(signature, Mapping):
        raise SignatureError("no signature; sign the job again")
    try:
        told = {name: str(signature[name]) for name in _SIGNED}
        public = Ed25519PublicKey.from_public_bytes(bytes.fromhex(told["public_key"]))
        public.verify(bytes.fromhex(str(signature["signature"])), encode(told))
    except (KeyError, ValueError) as error:
        raise SignatureError(f"no signature ({error}); sign the job again") from error
    except InvalidSignature as error:
        message = "what is signed was changed, or it was signed with another key; ask who signed"
        raise SignatureError(message) from error
    problems = check_root(lines, told["root"])
    if any(problem.level is Level.ERROR for problem in problems):
        message = (
            f"{told['name']} signed another journal, or an earlier state of this one; compare the "
            "root on the record, and sign again with the same name and key; without that key, "
            f"{_ANEW}"
        )
        raise SignatureError(message)
    return problems
