"""Compare a job with the independent check of it, point by point.

Another person has taken the same readings anew, later and apart; see
`assistant.trade.verification` for when that counts as independent. Everything that a setting
records of how the valve was left is a point: the unit sheet, identity, the stroke, each rotor's
shaft, contacts and trip, the lamps of each zone and the times. A check need not take all of them:
what only one of the two has read is told as such. But a check that has not found a rotor's trip has
not checked the job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

from assistant.journal.as_left import AsLeft, Read
from assistant.journal.entry import REVIEW_KINDS, Entry
from assistant.journal.proofs import LockedBy, Proofs
from assistant.trade.unit import Rotor, Unit
from assistant.trade.verification import Visit, same_person

__all__ = ["Point", "check_of", "compare", "visit_of"]

_ROUNDING = 1e-9

_SHOWN = 12
"""Digits of a SHA-256 that are shown; the record lists each file with all of them."""


@dataclass(frozen=True, slots=True)
class Point:
    """One point that was compared.

    Args:
        what: what was read.
        first: as the job has it; None where it was not read.
        second: as the check has it; None where it was not read.
        agrees: whether they are the same, within tolerance; None where only one of them has it and
            the check may do without.
        first_line: the line of the job's journal.
        second_line: the line of the check's journal.
    """

    what: str
    first: str | None
    second: str | None
    agrees: bool | None
    first_line: int | None = None
    second_line: int | None = None

    @property
    def verdict(self) -> str:
        """In words."""
        if self.agrees is None:
            return "only in the job" if self.second is None else "only in the check"
        return "same" if self.agrees else "differs"

    def as_json(self) -> dict[str, Any]:
        """As it stands in the journal."""
        return asdict(self)


def visit_of(entries: Sequence[Entry], person: str) -> Visit:
    """When a job was done, by whom, and whether that person had seen the other's readings.

    Args:
        entries: of the job, at least one.
        person: the name of the paper that holds the person.

    Raises:
        ValueError: the job does not say who did it.
    """
    papers = _papers(entries)
    if person not in papers:
        raise ValueError(f"the job does not say who the {person} was")
    events = [entry for entry in entries if entry.kind not in REVIEW_KINDS]
    return Visit(
        person=str(papers[person]),
        begun=entries[0].time,
        ended=events[-1].time,
        had_seen=_said_seen(entries),
    )


def check_of(first: Sequence[Entry], second: Sequence[Entry]) -> Visit:
    """The checker's visit; who heard the job before it, or stood beside it, has seen its readings.

    That is whoever gave verdicts in a review or was shown where an earlier check differs, and the
    job's own checker.

    Args:
        first: the job that is checked.
        second: the independent check, at least one entry.

    Raises:
        ValueError: the check does not say who made it, or did not ask for what was seen before.
    """
    visit = visit_of(second, "checker")
    if not _asks_what_was_seen(second):
        raise ValueError(
            "the second job is no independent check: nobody was asked whether the first readings "
            "had been seen"
        )
    heard = any(
        entry.kind in ("verdict", "compared")
        and entry.time < visit.ended
        and same_person(str(entry.body.get("by", "")), visit.person)
        for entry in first
    )
    beside = same_person(str(_papers(first).get("checker", "")), visit.person)
    return replace(visit, had_seen=visit.had_seen or heard or beside)


def compare(
    unit: Unit,
    first: Sequence[Entry],
    second: Sequence[Entry],
    locked: tuple[LockedBy | None, LockedBy | None] = (None, None),
) -> tuple[Point, ...]:
    """Compare every reading of how the valve was left with the check's reading of it.

    Args:
        unit: the unit sheet of the job, whose tolerances hold: that of a trip also for turns, as
            that part of the stroke.
        first: the job.
        second: the independent check.
        locked: by the procedure of each, see `assistant.journal.proofs.locked_by`.
    """
    one, other = AsLeft(first, locked[0]), AsLeft(second, locked[1])
    return (
        *_sheets(first, second),
        *_shafts(second, locked[1]),
        *(point for rule in _of_the_job(unit) for point in rule.points(one, other)),
        *(
            point
            for rotor in unit.rotors
            for rule in _of_a_rotor(unit, rotor)
            for point in rule.points(one, other)
        ),
    )


@dataclass(frozen=True, slots=True)
class _Rule:
    """How one reading is compared.

    Args:
        what: what is read.
        read: finds it in a job.
        unit: of a number.
        allowed: how far two numbers may lie apart, given the first.
        needed: whether the check has to have it.
    """

    what: str
    read: Callable[[AsLeft], Read | None]
    unit: str = ""
    allowed: Callable[[float], float] = lambda _first: 0.0
    needed: bool = False

    def points(self, first: AsLeft, second: AsLeft) -> Iterator[Point]:
        """The point; none where neither has read it and the check may do without."""
        one, other = self.read(first), self.read(second)
        if one is None and other is None and not self.needed:
            return
        yield Point(
            what=self.what,
            first=self._told(one),
            second=self._told(other),
            agrees=self._agrees(one, other),
            first_line=None if one is None else one.line,
            second_line=None if other is None else other.line,
        )

    def _told(self, read: Read | None) -> str | None:
        match read:
            case Read(value=str(text)):
                return text
            case Read(value=float(number)):
                unit = self.unit.removesuffix("s") if number == 1 else self.unit
                return f"{number:g} {unit}".strip()
        return None

    def _agrees(self, one: Read | None, other: Read | None) -> bool | None:
        match one, other:
            case Read(value=float(first)), Read(value=float(second)):
                return abs(first - second) <= self.allowed(first) + _ROUNDING
            case Read(value=first), Read(value=second):
                return first == second
        return False if self.needed else None


def _of_the_job(unit: Unit) -> Iterator[_Rule]:
    """The readings that are of no rotor."""

    def turns(_first: float) -> float:
        return unit.tolerance.value / 100 * unit.stroke_turns.value

    def seconds(first: float) -> float:
        return unit.stroke_time_tolerance.value / 100 * first

    yield _Rule("tag read on the valve", lambda job: job.text("tag"))
    yield _Rule("drawing revision read", lambda job: job.text("drawing-revision"))
    yield _Rule("seats on", lambda job: job.text("seats-on"))
    yield _Rule("full stroke", lambda job: job.number("counted-stroke"), "turns", turns)
    yield _Rule("disk left its seat", lambda job: job.number("disk-left-seat-at"), "turns", turns)
    yield _Rule("lamps in travel", lambda job: job.lamps("lamps-in-travel"))
    yield _Rule("lamps when closed", lambda job: job.lamps("lamps-when-closed"))
    yield _Rule("lamps when open", lambda job: job.lamps("lamps-when-open"))
    yield _Rule("last lamp and stop, closing", lambda job: job.text("last-lamp-and-stop"))
    yield _Rule("stroke time", lambda job: job.number("stroke-time"), "seconds", seconds)
    yield _Rule(
        "stopped before the open stop",
        lambda job: job.number("stopped-before-the-stop"),
        "turns",
        turns,
    )


def _of_a_rotor(unit: Unit, rotor: Rotor) -> Iterator[_Rule]:
    yield _Rule(
        f"shaft of the {rotor.name} rotor while opening",
        lambda job: job.shaft_while_opening(rotor),
    )
    for contact in rotor.contacts:
        yield _contact(rotor, contact, "before", AsLeft.before_the_trip)
    for contact in rotor.contacts:
        yield _contact(rotor, contact, "past", AsLeft.past_the_trip)
    yield _Rule(
        f"trip of the {rotor.name} rotor",
        lambda job: job.trip(rotor),
        "%",
        lambda _first: unit.tolerance.value,
        needed=True,
    )


def _contact(
    rotor: Rotor, contact: int, where: str, read: Callable[[AsLeft, Rotor, int], Read | None]
) -> _Rule:
    what = f"contact {contact}, {where} the trip of the {rotor.name} rotor"
    return _Rule(what, lambda job: read(job, rotor, contact))


def _sheets(first: Sequence[Entry], second: Sequence[Entry]) -> Iterator[Point]:
    """The unit sheets with which the two were begun: the same tag may stand on another sheet."""
    for name in ("tag", "drawing", "revision"):
        told = [_text(entries[0].body.get("unit"), name) for entries in (first, second)]
        yield Point(name, told[0], told[1], told[0] == told[1], 1, 1)
    numbers = list(_other_numbers(first, second))
    one, other = _sheet_hash(first), _sheet_hash(second)
    if one is not None and other is not None and (one == other or not numbers):
        shown = [f"SHA-256 {sha256[:_SHOWN]}…" for sha256 in (one, other)]
        yield Point("unit sheet", shown[0], shown[1], one == other, 1, 1)
    yield from numbers


def _other_numbers(first: Sequence[Entry], second: Sequence[Entry]) -> Iterator[Point]:
    """The numbers of the sheets that are not the same in both."""
    one, other = _numbers(first), _numbers(second)
    for name in dict.fromkeys((*one, *other)):
        if one.get(name) != other.get(name):
            what = f"{name.replace('-', ' ')} on the unit sheet"
            yield Point(
                what, one.get(name), other.get(name), agrees=False, first_line=1, second_line=1
            )


def _numbers(entries: Sequence[Entry]) -> dict[str, str]:
    """The numbers of the sheet in words, by name; none where the first line has none."""
    numbers = entries[0].body.get("numbers")
    found: dict[str, str] = {}
    for name, number in numbers.items() if isinstance(numbers, Mapping) else ():
        match number:
            case {"value": int() | float() as value, "unit": str(unit)}:
                found[str(name)] = f"{value:g} {unit}".strip()
    return found


def _sheet_hash(entries: Sequence[Entry]) -> str | None:
    """The SHA-256 of the unit sheet; None where the first line does not say it."""
    match entries[0].body:
        case {"job": {"unit_file": str(file)}, "sources": Mapping() as sources}:
            return _text(sources, file)
    return None


def _shafts(second: Sequence[Entry], locked: LockedBy | None) -> Iterator[Point]:
    """That a shaft was found free at the check, where it was: then nothing proves what was left."""
    for void in Proofs(second, locked).free[:1]:
        yield Point("shafts", "locked", void.why, agrees=False, second_line=void.line)


def _papers(entries: Sequence[Entry]) -> Mapping[str, Any]:
    match entries[0].body.get("job"):
        case {"papers": dict(papers)}:
            return papers
    return {}


def _text(value: Any, name: str) -> str | None:
    return str(value[name]) if isinstance(value, Mapping) and name in value else None


def _asks_what_was_seen(entries: Sequence[Entry]) -> bool:
    return any(_apart(entries))


def _said_seen(entries: Sequence[Entry]) -> bool:
    """Whether the person said to have seen the first readings; the last answer counts."""
    return list(_apart(entries))[-1:] == [{"command": "yes"}]


def _apart(entries: Sequence[Entry]) -> Iterator[Any]:
    """What was answered to that."""
    for entry in entries:
        confirmed = entry.body.get("confirmed")
        if isinstance(confirmed, Mapping) and "apart" in confirmed:
            yield confirmed["apart"]
