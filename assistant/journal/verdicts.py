"""A second person's verdicts on a job, as entries of its journal.

A verdict stands in the same chain as what it judges. A disagreement is open until a later verdict
agrees on the same line, or, of an independent check, until a later one agrees: until then the job
is on hold. A signature has a name, a time and a meaning (21 CFR 11.50).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.independent import Point
from assistant.trade.verification import same_person

__all__ = ["Disagreement", "compared", "heard", "judged", "open_disagreements", "signed"]

HEARD_MEANING = "heard the recording and judged the confirmation"
SIGNED_MEANING = "heard every confirmation that decides something"
COMPARED_MEANING = "took the same readings independently, and compared them"


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Something on which a second person does not agree.

    Args:
        seq: the line of the verdict.
        of: the line that is judged; 0 for an independent check.
        what: in words.
        by: who does not agree.
    """

    seq: int
    of: int
    what: str
    by: str

    @property
    def to_clear(self) -> str:
        """What is needed before the job may go on."""
        if self.of:
            return (
                f"take the reading of line {self.of} again with the technician, then review the "
                "job again and agree"
            )
        return (
            "find out which reading is right, then let somebody who has seen neither check "
            "independently, and agree"
        )


def judged(of: int, step: str, by: str, *, agrees: bool) -> dict[str, Any]:
    """The body of a verdict on one confirmation."""
    return {
        "kind": "verdict",
        "of": of,
        "step": step,
        "agrees": agrees,
        "by": by,
        "meaning": HEARD_MEANING,
    }


def signed(by: str, agreed: int, disagreed: int) -> dict[str, Any]:
    """The body of the end of a review."""
    return {
        "kind": "reviewed",
        "by": by,
        "agreed": agreed,
        "disagreed": disagreed,
        "meaning": SIGNED_MEANING,
    }


def compared(by: str, other: str, points: Sequence[Point]) -> dict[str, Any]:
    """The body of an independent check.

    Args:
        by: who took the readings anew.
        other: the root of the other journal.
        points: each point that was compared.
    """
    return {
        "kind": "compared",
        "by": by,
        "with_root": other,
        "points": [point.as_json() for point in points],
        "agrees": all(point.agrees is not False for point in points),
        "meaning": COMPARED_MEANING,
    }


def heard(entries: Iterable[Entry], by: str) -> frozenset[int]:
    """The lines on which a person's last verdict agrees; what another heard is not heard by them.

    Args:
        entries: of the job.
        by: the person.
    """
    last = {
        entry.body.get("of"): entry
        for entry in entries
        if entry.kind == "verdict" and same_person(str(entry.body.get("by", "")), by)
    }
    return frozenset(
        of for of, entry in last.items() if isinstance(of, int) and entry.body.get("agrees") is True
    )


def open_disagreements(entries: Iterable[Entry]) -> Iterator[Disagreement]:
    """The disagreements that nothing has cleared yet, in the order of the journal."""
    last: dict[int, Entry] = {}
    for entry in entries:
        of = entry.body.get("of")
        if entry.kind == "verdict" and isinstance(of, int):
            last[of] = entry
        elif entry.kind == "compared":
            last[0] = entry
    for of, entry in sorted(last.items()):
        if entry.body.get("agrees") is not True:
            yield Disagreement(entry.seq, of, _what(entry), str(entry.body.get("by", "")))


def _what(entry: Entry) -> str:
    if entry.kind == "verdict":
        return f"the confirmation of line {entry.body.get('of')}, at {entry.body.get('step')}"
    points = entry.body.get("points")
    named = [
        str(point.get("what"))
        for point in (points if isinstance(points, list) else ())
        if isinstance(point, dict) and point.get("agrees") is False
    ]
    return ", ".join(named) or "the independent check"
