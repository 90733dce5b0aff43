"""The hash tree over a journal's lines, and its root.

One hash that stands for every line, in their order. Kept elsewhere (on the paper work order, for
example), it proves later that the journal is still the one of that day, against cutting its end
and against writing it all anew as well, which the chain inside the file cannot.

Source: RFC 6962 §2.1. A leaf is hashed after a byte 0, two branches after a byte 1, so that no
branch passes for a line. The left branch takes the largest power of two that leaves something for
the right one.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator

__all__ = ["root", "roots"]

_LEAF = b"\x00"
_NODE = b"\x01"

_Peaks = list[tuple[int, bytes]]
"""Leaves and hash of each whole subtree so far, the largest and leftmost first."""


def root(leaves: Iterable[bytes]) -> str:
    """The root of the tree over the leaves, in hexadecimal; in linear time.

    Args:
        leaves: the lines of a journal, each without its newline.

    >>> root([])  # SHA-256 of nothing: RFC 6962 section 2.1
    'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'
    """
    peaks: _Peaks = []
    for leaf in leaves:
        _add(peaks, leaf)
    return _fold(peaks)


def roots(leaves: Iterable[bytes]) -> Iterator[str]:
    """The root after each leaf: what it was when the journal had 1, 2, 3 … lines."""
    peaks: _Peaks = []
    for leaf in leaves:
        _add(peaks, leaf)
        yield _fold(peaks)


def _add(peaks: _Peaks, leaf: bytes) -> None:
    size, node = 1, hashlib.sha256(_LEAF + leaf).digest()
    while peaks and peaks[-1][0] == size:
        _, left = peaks.pop()
        size, node = 2 * size, _branch(left, node)
    peaks.append((size, node))


def _fold(peaks: _Peaks) -> str:
    if not peaks:
        return hashlib.sha256().hexdigest()
    node = peaks[-1][1]
    for _, left in reversed(peaks[:-1]):
        node = _branch(left, node)
    return node.hex()


def _branch(left: bytes, right: bytes) -> bytes:
    return hashlib.sha256(_NODE + left + right).digest()
