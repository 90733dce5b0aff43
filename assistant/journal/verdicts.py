"""A second person's verdicts on a job, as entries of its journal.

A verdict stands in the same chain as what it judges, until the line that it judges is taken back by
going back. A disagreement is open until the same person agrees on the same line, or, of an
independent check, until a new one agrees: until then the job is on hold. A check counts once: one
that was compared before clears nothing when it is compared again. What another says of the line is
shown beside it. A signature has a name, a time and a meaning (21 CFR 11.50).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from assistant.journal.as_found import AsFound
from assistant.journal.entry import Entry, is_finished
from assistant.journal.independent import Point
from assistant.journal.standing import taken_back
from assistant.trade.verification import same_person

__all__ = [
    "HEARD_MEANING",
    "READ_MEANING",
    "Counts",
    "Disagreement",
    "compared",
    "comparison_with",
    "counts_of",
    "judged",
    "open_disagreements",
    "signature_of",
    "signed",
    "verdicts_by",
]

HEARD_MEANING = "heard the recording and judged the confirmation"
READ_MEANING = "read the entry, which has no recording, and judged the confirmation"
COMPARED_MEANING = "took the same readings independently, and compared them"


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Something on which a second person does not agree.

    Args:
        seq: the line of the verdict.
        of: the line that is judged; 0 for an independent check.
        step: the step of that line; empty for an independent check.
        what: in words.
        by: who does not agree.
        to_clear: what is needed before the job may go on.
    """

    seq: int
    of: int
    step: str
    what: str
    by: str
    to_clear: str


@dataclass(frozen=True, slots=True)
class Counts:
    """What a person has judged: lines, by the last verdict on each.

    Args:
        agreed: on which that person agrees.
        disagreed: on which not.
        heard: that were judged by their recording.
        read: that were judged as they are written, having none.
    """

    agreed: int
    disagreed: int
    heard: int
    read: int


def judged(
    of: int, step: str, by: str, *, agrees: bool, meaning: str = HEARD_MEANING
) -> dict[str, Any]:
    """The body of a verdict on one confirmation.

    Args:
        of: its line.
        step: its step.
        by: who judges.
        agrees: the verdict.
        meaning: `HEARD_MEANING`, or `READ_MEANING` where there is no recording of the answer.
    """
    return {
        "kind": "verdict",
        "of": of,
        "step": step,
        "agrees": agrees,
        "by": by,
        "meaning": meaning,
    }


def signed(by: str, counts: Counts) -> dict[str, Any]:
    """The body of the end of a review."""
    return {
        "kind": "reviewed",
        "by": by,
        "agreed": counts.agreed,
        "disagreed": counts.disagreed,
        "heard": counts.heard,
        "read": counts.read,
        "meaning": _signed_meaning(counts),
    }


def _signed_meaning(counts: Counts) -> str:
    """What was done with every confirmation.

    >>> _signed_meaning(Counts(9, 0, 7, 2))
    'heard every confirmation that decides something; read 2 of 9, which have no recording'
    """
    every = "every confirmation that decides something"
    if not counts.read:
        return f"heard {every}"
    if not counts.heard:
        return f"read {every}; none has a recording"
    total = counts.heard + counts.read
    has = "has" if counts.read == 1 else "have"
    return f"heard {every}; read {counts.read} of {total}, which {has} no recording"


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


def comparison_with(entries: Iterable[Entry], root: object) -> Entry | None:
    """The first line that compares the job with a check; None where none does.

    Args:
        entries: of the job.
        root: of the check's journal.
    """
    return next(
        (one for one in entries if one.kind == "compared" and one.body.get("with_root") == root),
        None,
    )


def verdicts_by(entries: Sequence[Entry], by: str) -> Mapping[int, Entry]:
    """A person's last verdict on each line that still stands; what another said is not in it.

    Args:
        entries: of the job.
        by: the person.
    """
    gone = taken_back(entries)
    return {
        of: entry
        for of, entry in _verdicts(entries)
        if of not in gone and same_person(_by(entry), by)
    }


def counts_of(verdicts: Iterable[Entry]) -> Counts:
    """How many lines were judged and how, by one person's last verdicts."""
    judged_lines = list(verdicts)
    agreed = sum(_agrees(entry) for entry in judged_lines)
    read = sum(entry.body.get("meaning") == READ_MEANING for entry in judged_lines)
    total = len(judged_lines)
    return Counts(agreed, total - agreed, total - read, read)


def signature_of(entries: Sequence[Entry], by: str, counts: Counts) -> Entry | None:
    """A person's last signature, if it counts this and that person has judged nothing since.

    Args:
        entries: of the job.
        by: the person.
        counts: what a new signature would count.
    """
    own = (
        entry
        for entry in reversed(entries)
        if entry.kind in ("verdict", "reviewed") and same_person(_by(entry), by)
    )
    last = next(own, None)
    if last is None or last.kind != "reviewed":
        return None
    return last if asdict(counts).items() <= last.body.items() else None


def open_disagreements(entries: Sequence[Entry]) -> Iterator[Disagreement]:
    """The disagreements that nothing has cleared yet, in the order of the lines judged."""
    verdicts = list(_verdicts(entries))
    differing = _differing_check(entries)
    if differing is not None:
        yield _of_check(differing)
    if all(_agrees(entry) for _, entry in verdicts):
        return
    finished, as_found = is_finished(entries), AsFound(entries)
    gone = taken_back(entries)
    for of in sorted({of for of, _ in verdicts} - gone):
        last = _last_of_each_person(entry for one, entry in verdicts if one == of)
        agreeing = [_by(entry) for entry in last if _agrees(entry)]
        for entry in last:
            if not _agrees(entry):
                past = as_found.is_past(of)
                yield _of_line(of, entry, agreeing, finished=finished, past=past)


def _differing_check(entries: Sequence[Entry]) -> Entry | None:
    """The last check that differs, where no new one has agreed since."""
    differing: Entry | None = None
    for entry in entries:
        if entry.kind != "compared":
            continue
        if not _agrees(entry):
            differing = entry
        elif comparison_with(entries, entry.body.get("with_root")) is entry:
            differing = None
    return differing


def _of_check(entry: Entry) -> Disagreement:
    to_clear = (
        "find out which reading is right, then let somebody who has seen neither check "
        "independently, and agree"
    )
    return Disagreement(entry.seq, 0, "", _points(entry), _by(entry), to_clear)


def _of_line(
    of: int, entry: Entry, agreeing: Sequence[str], *, finished: bool, past: bool
) -> Disagreement:
    step, by = str(entry.body.get("step", "")), _by(entry)
    what = f"the confirmation of line {of}, at {step}"
    if agreeing:
        what += f" ({', '.join(agreeing)} {'does' if len(agreeing) == 1 else 'do'})"
    if finished:
        to_clear = (
            f"find out with the technician what is right; if line {of} is, {by} reviews the job "
            "again and agrees; if not, it stays open, and a new job takes the reading again"
        )
    elif past:
        to_clear = (
            f"do not go back to line {of}: a shaft was to be turned since, and nobody can read any "
            f"more how the valve was found; if the technician and {by} find that line {of} is "
            f"right, {by} reviews the job again and agrees; if not, it stays open, and a new job "
            "begins with the valve as it stands"
        )
    else:
        to_clear = (
            f"go on with the job, go back to line {of} and take the reading again with the "
            f"technician; or {by} reviews the job again and agrees"
        )
    return Disagreement(entry.seq, of, step, what, by, to_clear)


def _last_of_each_person(verdicts: Iterable[Entry]) -> list[Entry]:
    """Of verdicts on one line the last of each person, whichever way the name is written."""
    last: list[Entry] = []
    for entry in verdicts:
        last = [one for one in last if not same_person(_by(one), _by(entry))]
        last.append(entry)
    return last


def _verdicts(entries: Iterable[Entry]) -> Iterator[tuple[int, Entry]]:
    """The line that each verdict judges, and the verdict."""
    for entry in entries:
        of = entry.body.get("of")
        if entry.kind == "verdict" and isinstance(of, int):
            yield of, entry


def _agrees(entry: Entry) -> bool:
    return entry.body.get("agrees") is True


def _by(entry: Entry) -> str:
    return str(entry.body.get("by", ""))


def _points(entry: Entry) -> str:
    """The points of an independent check on which it does not agree."""
    points = entry.body.get("points")
    named = [
        str(point.get("what"))
        for point in (points if isinstance(points, list) else ())
        if isinstance(point, dict) and point.get("agrees") is False
    ]
    return ", ".join(named) or "the independent check"
