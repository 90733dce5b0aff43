"""One entry of the journal, and the line that holds it.

A line is the canonical JSON of one object: `seq`, `time`, `previous` and the fields of the body
side by side. Fields that this program does not know are kept and written again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Any, Self

from assistant.journal.canonical import decode, digest, encode

__all__ = [
    "FIRST_KIND",
    "FORMAT",
    "FORMATS",
    "FORMAT_1",
    "FORMAT_2",
    "FORMAT_3",
    "FORMAT_4",
    "NO_LINE",
    "REVIEW_KINDS",
    "Entry",
    "is_finished",
    "opening",
    "timestamp",
]

FORMAT = "gloveside-journal/5"
"""What the first entry names as its format; another number is another format.

In this one nothing that was said behind the gate can be gone back to from before it, and what a
break or a free shaft voids stays void (`Rules.THIRD`); and a replay compares how many deviations
there are.
"""

FORMAT_4 = "gloveside-journal/4"
"""The first in which a hold says its kind beside its sentence, a reason counts once it was agreed
on, and a long silence is a break."""

FORMAT_3 = "gloveside-journal/3"
"""The first in which the voice may have been asked to go faster or softer."""

FORMAT_2 = "gloveside-journal/2"
"""The first with replies that were unclear between two meanings, which are asked about; it counts
how often a question got no answer."""

FORMAT_1 = "gloveside-journal/1"

FORMATS = (FORMAT, FORMAT_4, FORMAT_3, FORMAT_2, FORMAT_1)
"""The formats that this program reads, the one that it writes first."""

FIRST_KIND = "opened"
"""The kind of the first entry, and of no other."""

REVIEW_KINDS = frozenset({"verdict", "reviewed", "compared"})
"""Kinds of entries that judge a job and are no events of it."""

NO_LINE = "0" * 64
"""`previous` of the first entry, which has no line before it."""

_FRAME = ("seq", "time", "previous")
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", re.ASCII)
_HASH = re.compile(r"[0-9a-f]{64}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that happened.

    Args:
        seq: its number, from 1; also the number of its line.
        time: RFC 3339 in UTC with milliseconds, ``2031-05-14T08:02:11.250Z``.
        previous: SHA-256, in hexadecimal, of the line before without its newline; 64 zeros for
            the first entry.
        body: `kind` and whatever else is to be kept; plain JSON values.

    Raises:
        ValueError: one of them is not so.
    """

    seq: int
    time: str
    previous: str
    body: Mapping[str, Any]

    def __post_init__(self) -> None:
        if type(self.seq) is not int or self.seq < 1:
            raise ValueError(f"'seq' must be a whole number from 1, not {self.seq!r}")
        _require_time(self.time)
        if not isinstance(self.previous, str) or not _HASH.fullmatch(self.previous):
            raise ValueError("'previous' must be 64 hexadecimal digits in lower case")
        _require_body(self.body)
        object.__setattr__(self, "body", MappingProxyType(dict(self.body)))

    @classmethod
    def from_line(cls, line: bytes) -> Self:
        """The entry that a line (with or without its newline) holds.

        Raises:
            ValueError: the line is not JSON, or not an entry.
        """
        return cls.from_fields(decode(line))

    @classmethod
    def from_fields(cls, fields: Any) -> Self:
        """The entry that the JSON value of a line holds.

        Raises:
            ValueError: the value is not an entry.
        """
        if not isinstance(fields, dict):
            raise ValueError("an entry is a JSON object")
        missing = [name for name in _FRAME if name not in fields]
        if missing:
            raise ValueError(f"without {', '.join(repr(name) for name in missing)}")
        body = {name: value for name, value in fields.items() if name not in _FRAME}
        return cls(fields["seq"], fields["time"], fields["previous"], body)

    @property
    def kind(self) -> str:
        """What kind of thing happened, for example "opened", "heard" or "ended"."""
        return str(self.body["kind"])

    @property
    def clip(self) -> tuple[str, str] | None:
        """File and SHA-256 of the recording that it names, if it names one."""
        match self.body.get("clip"):
            case {"file": str(file), "sha256": str(sha256)}:
                return file, sha256
        return None

    @property
    def is_end(self) -> bool:
        """Whether the job was done with it."""
        return self.body.get("finished") is True

    @property
    def line(self) -> bytes:
        """The canonical line, without a newline."""
        frame = {"seq": self.seq, "time": self.time, "previous": self.previous}
        return encode({**self.body, **frame})

    @property
    def hash(self) -> str:
        """SHA-256 of the line: what the next entry carries as `previous`."""
        return digest(self.line)


def is_finished(entries: Iterable[Entry]) -> bool:
    """Whether the job with these entries is done; verdicts of a second person may follow."""
    return any(entry.is_end for entry in entries)


def opening(
    job: Mapping[str, Any],
    sources: Mapping[str, str],
    unit: Mapping[str, str],
    procedure: Mapping[str, str],
    program: str,
) -> dict[str, Any]:
    """The body of the first entry.

    Args:
        job: the files of procedure and unit sheet in the job folder, and the papers of the job.
        sources: file, relative to the procedures' folder → its SHA-256, for every file that the
            job runs from.
        unit: tag, drawing and revision; empty for a job on no unit.
        procedure: name, title and revision.
        program: the version of this program.
    """
    return {
        "kind": FIRST_KIND,
        "format": FORMAT,
        "job": dict(job),
        "sources": dict(sources),
        "unit": dict(unit),
        "procedure": dict(procedure),
        "program": program,
    }


def timestamp(moment: datetime) -> str:
    """The moment as the journal writes it; cut, not rounded, to milliseconds.

    >>> timestamp(datetime(2031, 5, 14, 8, 2, 11, 250_999, tzinfo=UTC))
    '2031-05-14T08:02:11.250Z'

    Raises:
        ValueError: the moment does not say its time zone.
    """
    if moment.tzinfo is None:
        raise ValueError("a moment without a time zone has no place in the journal")
    text = moment.astimezone(UTC).isoformat(timespec="milliseconds")
    return text.removesuffix("+00:00") + "Z"


def _require_time(time: object) -> None:
    if not isinstance(time, str) or not _TIME.fullmatch(time):
        raise ValueError(f"'time' must look like 2031-05-14T08:02:11.250Z, not {time!r}")
    try:
        datetime.fromisoformat(time)
    except ValueError:
        raise ValueError(f"'time' is no such moment: {time}") from None


def _require_body(body: Mapping[str, Any]) -> None:
    kind = body.get("kind")
    if not isinstance(kind, str) or not kind:
        raise ValueError("'kind' must be a word")
    taken = [name for name in _FRAME if name in body]
    if taken:
        raise ValueError(f"{', '.join(repr(name) for name in taken)} cannot stand in a body")
