"""The independent checks that were compared with the job, point by point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.independent import Point
from assistant.record.words import clean, in_words

__all__ = ["ComparedPoint", "Comparison", "comparisons_of"]


@dataclass(frozen=True, slots=True)
class ComparedPoint:
    """One reading, as the job and the check have it.

    Args:
        what: what was read.
        first: as the job has it; None where it was not read.
        second: as the check has it; None where it was not read.
        verdict: "same", "differs", "only in the job" or "only in the check".
        first_line: the line of the job's journal.
        second_line: the line of the check's journal.
    """

    what: str
    first: str | None
    second: str | None
    verdict: str
    first_line: int | None
    second_line: int | None


@dataclass(frozen=True, slots=True)
class Comparison:
    """A comparison with an independent check.

    Args:
        seq: number of the entry.
        time: when it was compared.
        by: who checked.
        root: of the check's journal.
        points: what was compared.
    """

    seq: int
    time: str
    by: str
    root: str
    points: tuple[ComparedPoint, ...]


def comparisons_of(entries: Sequence[Entry]) -> Iterator[Comparison]:
    """Every comparison, in the order of the journal."""
    for entry in entries:
        if entry.kind == "compared":
            yield Comparison(
                seq=entry.seq,
                time=entry.time,
                by=in_words(entry.body.get("by")),
                root=in_words(entry.body.get("with_root")),
                points=tuple(_points(entry.body.get("points"))),
            )


def _points(listed: Any) -> Iterator[ComparedPoint]:
    for told in listed if isinstance(listed, list) else ():
        match told:
            case {"what": str(what), "agrees": True | False | None as agrees}:
                point = Point(clean(what), _text(told, "first"), _text(told, "second"), agrees)
                yield ComparedPoint(
                    what=point.what,
                    first=point.first,
                    second=point.second,
                    verdict=point.verdict,
                    first_line=_line(told, "first_line"),
                    second_line=_line(told, "second_line"),
                )


def _text(told: dict[str, Any], name: str) -> str | None:
    value = told.get(name)
    return clean(value) if isinstance(value, str) else None


def _line(told: dict[str, Any], name: str) -> int | None:
    value = told.get(name)
    return value if type(value) is int and value > 0 else None
