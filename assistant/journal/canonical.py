"""Canonical JSON and its hash: one value, one sequence of bytes.

Source: RFC 8785 (JSON Canonicalization Scheme), FIPS 180-4 (SHA-256).
"""

from __future__ import annotations

import hashlib
import json
from typing import Any, NoReturn

import rfc8785

__all__ = ["decode", "digest", "encode"]

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
        return json.loads(data.decode("utf-8"), parse_int=_whole, parse_constant=_refuse)
    except RecursionError:
        raise ValueError("nested too deeply for JSON") from None


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


def _refuse(name: str) -> NoReturn:
    raise ValueError(f"{name} is not JSON")
