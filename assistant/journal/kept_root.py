"""Compare a journal with the root that was kept elsewhere: on the record, or on paper.

This finds what the chain alone cannot: lines cut from the end, a last line that was changed, and a
file that was written anew from beginning to end.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence

from assistant.journal.chain import KEEP, Level, Problem
from assistant.journal.entry import REVIEW_KINDS, Entry
from assistant.journal.root_words import COUNT, WORDS, prefix_of
from assistant.journal.tree import roots

__all__ = ["FEWEST_DIGITS", "check_root", "covered", "kept_prefix"]

FEWEST_DIGITS = 16
"""Hexadecimal digits of a root that are enough to compare: 64 bits."""

_DIGITS = re.compile(r"[0-9a-f]+", re.ASCII)


def kept_prefix(text: str) -> str:
    """The first hexadecimal digits of the root that somebody kept.

    Args:
        text: at least 16 digits of the root, or its four words, in capitals or not.

    >>> kept_prefix("Acorn album, anchor, angel")
    '00010203'

    Raises:
        ValueError: it is neither; the message says what to write.
    """
    pieces = re.findall(r"\w+", text.lower())
    joined = "".join(pieces)
    if _DIGITS.fullmatch(joined) and FEWEST_DIGITS <= len(joined) <= 64:
        return joined
    unknown = [piece for piece in pieces if piece not in WORDS]
    if len(pieces) == COUNT and not unknown:
        return prefix_of(pieces)
    if len(pieces) == COUNT:
        near = difflib.get_close_matches(unknown[0], WORDS, 1)
        hint = f"; did you mean '{near[0]}'?" if near else ""
        raise ValueError(f"'{unknown[0]}' is no word of a root{hint}")
    raise ValueError(
        f"write the root's four words, or {FEWEST_DIGITS} to 64 of its hexadecimal digits"
    )


def check_root(lines: Sequence[bytes], prefix: str) -> list[Problem]:
    """Compare the root over the lines with the one that was kept.

    Args:
        lines: the journal's lines, each with its newline; a torn last line is left out.
        prefix: the first digits of the root, as `kept_prefix` gives them.
    """
    whole = _whole(lines)
    last = covered(lines, prefix)
    if last == len(whole) > 0:
        return []
    if last:
        what = f"the root that was kept is that of lines 1 to {last}: lines were written after"
        added = {_kind(line) for line in whole[last:]}
        level = Level.NOTICE if added <= REVIEW_KINDS else Level.ERROR
        return [Problem(last + 1, what, _ADDED, level)]
    what = (
        f"none of the {len(whole)} lines ends a journal with the root that was kept: lines were "
        "cut from the end, the file was written anew, or it is of another job"
    )
    return [Problem(max(len(whole), 1), what, KEEP)]


def covered(lines: Sequence[bytes], prefix: str) -> int:
    """The last line of those whose root was kept; 0 where it is not the root of this journal.

    Nothing vouches for a line after it. Arguments as of `check_root`.
    """
    found = (number for number, one in enumerate(roots(_whole(lines)), 1) if one.startswith(prefix))
    return max(found, default=0)


def _whole(lines: Sequence[bytes]) -> list[bytes]:
    return [line[:-1] for line in lines if line.endswith(b"\n")]


def _kind(line: bytes) -> str:
    try:
        return str(Entry.from_line(line).kind)
    except ValueError:
        return ""


_ADDED = "what stands before is as it was; ask who went on with the job, and keep the new root"
