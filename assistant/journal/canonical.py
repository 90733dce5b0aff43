"""Canonical JSON and its hash: one value, one sequence of bytes.

Source: RFC 8785 (JSON Canonicalization Scheme), FIPS 180-4 (SHA-256).
"""

from __future__ import annotations

import hashlib
import json
import re
from typing import Any, NoReturn

import rfc8785

__all__ = ["decode", "digest", "encode", "is_canonical"]

_EXACT = 2**53 - 1
"""The largest whole number that every reader of JSON keeps exactly (RFC 8785 appendix D)."""


def encode(value: Any) -> bytes:
    """The canonical bytes of a JSON value.

    >>> encode({"b": 4.50, "a": [None, True]})
    b'{"a":[null,true],"b":4.5}'

    Raises:
        ValueError: the value has no canonical form: NaN, an infinity, a whole number beyond
            2**53 - 1, half a surrogate pair, a key that is not text, another type, or nesting
            deeper than Python's stack.
    """
    try:
        return rfc8785.dumps(value)
    except RecursionError:
        raise ValueError("nested too deeply for JSON") from None


def decode(data: bytes) -> Any:
    """The value of JSON bytes in UTF-8, canonical or not.

    Raises:
        ValueError: the bytes are not JSON.
    """
    try:
        return _READER.decode(data.decode("utf-8"))
    except RecursionError:
        raise ValueError("nested too deeply for JSON") from None


def is_canonical(data: bytes, value: Any) -> bool:
    """Whether bytes that were decoded to a value are the canonical bytes of that value.

    Args:
        data: what `decode` was given.
        value: what it answered.

    The standard library writes most lines of a journal in canonical form too, many times faster.
    Where it may write something else, the bytes show it: names beyond ASCII, which it sorts
    otherwise, and numbers with an exponent or a needless ``.0`` (RFC 8785 §3.2.2 and §3.2.3).
    """
    try:
        plain = data.isascii() and not _doubtful(data)
        return (plain and _PLAIN.encode(value).encode() == data) or encode(value) == data
    except (ValueError, RecursionError):
        return False


def digest(data: bytes) -> str:
    """SHA-256 in hexadecimal.

    >>> digest(b"abc")
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'
    """
    return hashlib.sha256(data).hexdigest()


def _whole(text: str) -> int | float:
    """A number written without point or exponent; canonical form writes 1e20 so too."""
    number = int(text)
    return number if abs(number) <= _EXACT else float(text)


def _doubtful(data: bytes) -> bool:
    """Whether there may be a number that the standard library and RFC 8785 write differently."""
    return any(pattern.search(data) for pattern in _DOUBTFUL)


def _refuse(name: str) -> NoReturn:
    raise ValueError(f"{name} is not JSON")


_READER = json.JSONDecoder(parse_int=_whole, parse_constant=_refuse)
_PLAIN = json.JSONEncoder(
    ensure_ascii=False, sort_keys=True, separators=(",", ":"), check_circular=False
)
# Three patterns that each begin with plain letters are searched for four times faster than one.
_DOUBTFUL = tuple(map(re.compile, (rb"e-(?<=\de-)", rb"e\+(?<=\de\+)", rb"\.0(?!\d)")))
"""What the standard library writes and RFC 8785 does not, or not always: 1e-05, 1e+16, 4.0."""
