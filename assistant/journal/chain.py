"""Judge the lines of a journal.

A sound journal is one in which, for every line:

1.  the line ends in a newline. Only the last can lack it: then it was being written when the
    power went, nobody has acted on it, and it counts as torn.
2.  The line is JSON and has the fields of an entry.
3.  The line is the canonical form of its entry (RFC 8785), byte for byte.
4.  `seq` counts 1, 2, 3 … without a gap.
5.  `previous` is the SHA-256 of the line before, without its newline; 64 zeros in line 1.
6.  Line 1, and no other, is of the kind "opened", and it names a format that this program knows.
7.  Time does not go backwards. Clocks are set back honestly too, so this is a notice, no error.

What this proves: a line changed, dropped, doubled or moved is found at the line itself or at the
one after it. What it cannot prove: that the *last* line is unchanged, that lines were not cut from
the end, or that nobody wrote the whole file anew. All three need one hash kept elsewhere, such as
the last line's hash printed on the record: `check_last` compares with it, `kept_root` with the root
of the hash tree or its four words.

This module touches no disk, no clock and no device.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.canonical import decode, digest, encode, is_canonical
from assistant.journal.entry import FIRST_KIND, FORMATS, NO_LINE, Entry

__all__ = [
    "KEEP",
    "Level",
    "Problem",
    "check",
    "check_last",
    "line_hash",
    "link",
    "split_lines",
    "walk",
]


class Level(enum.StrEnum):
    """How much a problem matters."""

    ERROR = "error"
    NOTICE = "notice"


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that is not as it must be.

    Args:
        line: number of the line, from 1.
        what: what is wrong.
        remedy: what to do about it.
        level: an error, or only a notice.
    """

    line: int
    what: str
    remedy: str
    level: Level = Level.ERROR


KEEP = (
    "keep the folder as it is, compare it with a copy from before, and start a new job "
    "in another folder"
)
"""The remedy where a journal is no longer what was written."""

_WAIT = "nobody has acted on it: carry on with the job, which sets the piece aside"
_CLOCK = "check the clock; the order of the entries holds all the same"
_NEWER = "read this job with the version of the program that wrote it, or a newer one"


def split_lines(data: bytes) -> list[bytes]:
    r"""The lines of a journal's bytes, each with its newline; a torn last line has none.

    >>> split_lines(b"one\ntwo\nthr")
    [b'one\n', b'two\n', b'thr']
    """
    pieces = data.split(b"\n")
    last = pieces.pop()
    return [piece + b"\n" for piece in pieces] + ([last] if last else [])


def line_hash(line: bytes) -> str:
    """SHA-256 of a line, with or without its newline, in hexadecimal."""
    return digest(line.removesuffix(b"\n"))


def check(lines: Sequence[bytes]) -> list[Problem]:
    """What is wrong with the lines, each with its newline; nothing for a sound journal."""
    return list(walk(lines)[1])


def check_last(lines: Sequence[bytes], expected: str) -> list[Problem]:
    """Compare the last line with a hash that was kept elsewhere, on the record for example."""
    hashes = [line_hash(line) for line in lines]
    wanted = expected.strip().lower()
    if hashes[-1:] == [wanted]:
        return []
    what = "the last line is not the one whose hash was kept"
    known = [number for number, found in enumerate(hashes, 1) if found == wanted]
    if known:
        what += f": that was line {known[0]}, and lines were written after it"
    return [Problem(max(len(lines), 1), what, KEEP)]


def link(previous_line: bytes | None, seq: int, time: str, body: Mapping[str, Any]) -> Entry:
    """The entry that follows a line.

    The entry is read back from its own canonical line, so what the program goes on with is what
    a replay of the journal will see.

    Args:
        previous_line: the line before, with or without its newline; None for the first.
        seq: number of the entry, from 1.
        time: as `entry.timestamp` writes it.
        body: `kind` and more, JSON values.

    Raises:
        ValueError: no entry can be made of these.
    """
    if (previous_line is None) != (seq == 1):
        raise ValueError(f"entry {seq} must {'not ' if seq == 1 else ''}follow a line")
    previous = NO_LINE if previous_line is None else line_hash(previous_line)
    fields = {**body, "seq": seq, "time": time, "previous": previous}
    if len(fields) != len(body) + 3:
        raise ValueError("'seq', 'time' and 'previous' are no names for fields of a body")
    entry = Entry.from_line(encode(fields))
    for what, _ in _place_faults(seq, entry):
        raise ValueError(what)
    return entry


def walk(lines: Sequence[bytes]) -> tuple[tuple[Entry, ...], tuple[Problem, ...]]:
    """The entries that could be read, and every problem, in the order of the lines."""
    if not lines:
        return (), (Problem(1, "the journal holds no entry", "start the job again"),)
    entries: list[Entry] = []
    problems: list[Problem] = []
    follower = _Follower()
    for number, line in enumerate(lines, start=1):
        entry, faults = follower.read(line)
        problems.extend(Problem(number, *fault) for fault in faults)
        if entry is not None:
            entries.append(entry)
    return tuple(entries), tuple(problems)


_Fault = tuple[str, str] | tuple[str, str, Level]
"""The text, the remedy and, where it is no error, the level of a problem."""

_NOT_CANONICAL = "not in canonical form: something else than this program wrote it", KEEP


@dataclass(slots=True)
class _Follower:
    """What the lines so far lead one to expect of the next."""

    number: int = 0
    seq: int = 1
    previous: str = NO_LINE
    time: str = ""

    def read(self, line: bytes) -> tuple[Entry | None, list[_Fault]]:
        """Read the next line; answer its entry, where it holds one, and its faults."""
        self.number += 1
        if not line.endswith(b"\n"):
            return None, [("the line is torn: it has no end", _WAIT)]
        try:
            fields = decode(line)
            entry = Entry.from_fields(fields)
        except ValueError as error:
            faults: list[_Fault] = [(f"not an entry of a journal: {error}", KEEP)]
            self._expect(self.seq + 1, line)
            return None, faults
        faults = [] if is_canonical(line[:-1], fields) else [_NOT_CANONICAL]
        faults += self._faults(entry)
        self._expect(entry.seq + 1, line)
        self.time = entry.time
        return entry, faults

    def _expect(self, seq: int, line: bytes) -> None:
        self.seq = seq
        self.previous = line_hash(line)

    def _faults(self, entry: Entry) -> Iterator[_Fault]:
        if entry.seq != self.seq:
            what = f"entry {entry.seq} stands where entry {self.seq} should: lines are"
            yield f"{what} missing, doubled or out of order", KEEP
        if entry.previous != self.previous:
            yield self._mismatch(), KEEP
        yield from _place_faults(self.number, entry)
        if entry.time < self.time:
            yield f"time went back from {self.time} to {entry.time}", _CLOCK, Level.NOTICE

    def _mismatch(self) -> str:
        if self.number == 1:
            return "the first line follows another line: the beginning was cut off or changed"
        return (
            f"does not follow line {self.number - 1}: one of the two was changed, "
            "or lines are missing, doubled or out of order"
        )


def _place_faults(number: int, entry: Entry) -> Iterator[tuple[str, str]]:
    """Faults of an entry that is of the wrong kind for its place."""
    if number > 1:
        if entry.kind == FIRST_KIND:
            yield f"a second entry of the kind {FIRST_KIND!r}", KEEP
    elif entry.kind != FIRST_KIND:
        yield f"the first entry must be of the kind {FIRST_KIND!r}, not {entry.kind!r}", KEEP
    elif entry.body.get("format") not in FORMATS:
        found = entry.body.get("format")
        yield (
            f"the format {found!r} is not known here: this program reads {', '.join(FORMATS)}",
            _NEWER,
        )
