"""``gloveside sign``: sign the root of a job's journal with a person's key, beside other people."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.files import put
from assistant.cli.run import clock
from assistant.journal.signature import (
    SIGNATURE_FILE,
    SignatureError,
    new_key,
    sign,
    signatures_in,
    with_signature,
)
from assistant.journal.store import read
from assistant.journal.tree import root

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("job", type=Path, metavar="JOB", help="the job folder")
    parser.add_argument("--name", required=True, help="who signs")
    parser.add_argument(
        "--meaning", default="this journal is as I know the job", help="with which meaning"
    )
    parser.add_argument(
        "--key",
        type=Path,
        required=True,
        metavar="FILE",
        help="the private key, Ed25519 in PEM; made where the file does not exist",
    )


def run(args: argparse.Namespace) -> Exit:
    """Sign, and say with which key; what others signed stays."""
    if not args.name.strip():
        raise Complaint("--name: name who signs")
    entries = read(args.job)
    if not entries:
        raise Complaint(f"{args.job}: nothing was said in this job yet; run it first")
    file = args.job / SIGNATURE_FILE
    kept = _kept(file)
    try:
        pem = _key(args.key)
        tree = root(entry.line for entry in entries)
        signed = sign(pem, tree, args.name, clock(), args.meaning)
    except SignatureError as error:
        raise Complaint(f"{args.key}: {error}") from error
    except OSError as error:
        raise Complaint(
            f"{args.key}: the key cannot be read or made ({error.strerror}); name another file"
        ) from error
    text = json.dumps(with_signature(kept, signed), indent=2, ensure_ascii=False)
    try:
        # What is no character stays as the escape that JSON has for it.
        put(file, f"{text}\n".encode(errors="backslashreplace"))
    except OSError as error:
        raise Complaint(
            f"{file}: the signature cannot be written ({error.strerror}); make room on the disk, "
            "and see that the job folder can be written"
        ) from error
    print(f"{file}: signed by {args.name} with the key {signed['public_key']}")
    return Exit.DONE


def _kept(file: Path) -> Sequence[Any]:
    """What was signed before; a file that cannot be read is left as it is."""
    if not file.exists():
        return ()
    try:
        return signatures_in(file.read_text(encoding="utf-8"))
    except SignatureError as error:
        raise Complaint(f"{file}: {error}") from error
    except (OSError, UnicodeDecodeError) as error:
        raise Complaint(
            f"{file}: cannot be read ({error}); move it elsewhere, and let everybody sign again"
        ) from error


def _key(file: Path) -> bytes:
    if not file.exists():
        put(file, new_key(), mode=0o600)
        print(f"{file}: a new key, for its owner's eyes only; keep it apart from the job")
    return file.read_bytes()
