"""The values that a procedure names: their kinds, their fields, and how each is said.

One table serves the loader, which checks every ``{name.field}`` before the job, and the session,
which looks the value up during it; so the two cannot disagree.
"""

from __future__ import annotations

import enum
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    ContactStates,
    Correction,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
)
from assistant.language.speaking import (
    say_contacts,
    say_meaning,
    say_number,
    say_reading,
    say_turns,
    spell,
)
from assistant.trade.approach import Approach, approach
from assistant.trade.lamps import lit_in_travel, lit_stopped
from assistant.trade.motion import Travel
from assistant.trade.proof import TripError
from assistant.trade.shaft import Verdict
from assistant.trade.unit import Place, Rotor, Seating, Unit

__all__ = [
    "FIELDS",
    "PAPER_KINDS",
    "Kind",
    "Moment",
    "RotorOfUnit",
    "Trip",
    "Value",
    "field_of",
    "of_meaning",
    "say",
]


class Kind(enum.StrEnum):
    """The kinds of values, by the names that a procedure uses."""

    UNIT = "unit"
    ROTOR = "rotor"
    CONTACTS = "contacts"
    READING = "reading"
    ROTATION = "rotation"
    TRAVEL = "travel"
    NUMBER = "number"
    TEXT = "text"
    LETTERS = "letters"
    DATE = "date"
    MOMENT = "moment"
    LAMPS = "lamps"
    ADVICE = "advice"
    SWEEP = "sweep"
    TRIP = "trip"


PAPER_KINDS = frozenset({Kind.LETTERS, Kind.DATE})
"""The kinds of what is told about a job before it begins, besides numbers, which have a unit."""


@dataclass(frozen=True, slots=True)
class Value:
    """A value of a kind."""

    kind: Kind
    content: Any


@dataclass(frozen=True, slots=True)
class Moment:
    """When something was said.

    Args:
        at: the moment.
        measured_from: whether a time may be measured from it; not after a break, for nobody knows
            what went on meanwhile. The day stays what it was.
    """

    at: datetime
    measured_from: bool = True


@dataclass(frozen=True, slots=True)
class RotorOfUnit:
    """A rotor, with the unit that it belongs to."""

    unit: Unit
    rotor: Rotor


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a kind.

    Args:
        kind: the kind of the field.
        read: gives its content.
        options: where it is one of a few words, these; a procedure can branch on it.
        unit: of a number.
    """

    kind: Kind
    read: Callable[[Any], Any]
    options: frozenset[str] = frozenset()
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Trip:
    """Where a rotor was found to change over, against the drawing.

    Args:
        percent: where in travel.
        turns: handwheel turns from the closed stop.
        error: how far from the drawn place.
    """

    percent: float
    turns: float
    error: TripError


def _turns(count: float) -> Quantity:
    return Quantity(count, "turns")


def _most_revolutions(unit: Unit) -> Quantity:
    """More than one cycle, so that a count that went on too long can still be told."""
    cycle, searched = unit.cycle_revolutions, _search(unit).value
    most = searched if cycle is None else max(cycle.value * 1.5, searched)
    return Quantity(most, "revolutions")


def _search(unit: Unit) -> Quantity:
    """How far a shaft is turned for its change-over, which may lie a whole cycle away."""
    cycle = unit.cycle_revolutions
    most = MOST_REVOLUTIONS if cycle is None else cycle.value + SEARCH_REVOLUTIONS
    return Quantity(most, "revolutions")


def _end(travel: Travel) -> str:
    return "open" if travel is Travel.OPENING else "closed"


def _approach(of: RotorOfUnit) -> Approach:
    return approach(of.unit, of.rotor)


def _rounding(of: RotorOfUnit) -> str:
    """Tell that a count was rounded; nothing where it was not."""
    way = _approach(of)
    _, _, rounding = say_turns(way.turns).partition(", ")
    return f", {rounding}" if rounding else ""


def _manner(of: RotorOfUnit) -> str:
    """How a rotor is brought to its place: from its stop, or along or against the counted way."""
    if of.rotor.place is not Place.TRAVEL:
        return "end"
    way = _approach(of)
    return "along" if way.toward is way.away else "against"


SEARCH_TURNS = 2.0
"""Turns beyond the drawn place in which a change-over is still looked for; common practice, no
source."""

SEARCH_REVOLUTIONS = 2.0
"""Shaft revolutions beyond a cycle in which a change-over is still looked for, so that a count one
short does not end there; common practice, no source."""

MOST_REVOLUTIONS = 300.0
"""Shaft revolutions that are believed where the cycle is not known; common practice, no source."""

_YES_NO = frozenset({"yes", "no"})


_FINDINGS: Mapping[Verdict, str] = {
    Verdict.ALREADY: "Changed over already.",
    Verdict.NOT_YET: "Not changed over yet.",
    Verdict.CONTRADICTION: "No direction.",
}

_COUNTS: Mapping[int, str] = {2: "two", 4: "four"}


def _yes_no(answer: object) -> str:
    return "yes" if answer else "no"


def _number(unit: str, read: Callable[[Any], Quantity]) -> Field:
    return Field(Kind.NUMBER, read, unit=unit)


FIELDS: Mapping[Kind, Mapping[str, Field]] = {
    Kind.UNIT: {
        "tag": Field(Kind.LETTERS, lambda unit: unit.tag),
        "spoken": Field(Kind.TEXT, lambda unit: unit.spoken or spell(unit.tag)),
        "service": Field(Kind.TEXT, lambda unit: unit.service),
        "drawing": Field(Kind.LETTERS, lambda unit: unit.drawing),
        "revision": Field(Kind.LETTERS, lambda unit: unit.revision),
        "seating": Field(
            Kind.TEXT, lambda unit: unit.seating.value, frozenset(way.value for way in Seating)
        ),
        "stroke": _number("turns", lambda unit: _turns(unit.stroke_turns.value)),
        "most-turns": _number("turns", lambda unit: _turns(unit.stroke_turns.value * 1.2 + 2)),
        "most-revolutions": _number("revolutions", _most_revolutions),
        "search": _number("revolutions", _search),
        "contacts": Field(Kind.CONTACTS, lambda unit: unit.development.contacts),
        "rotor-count": Field(
            Kind.TEXT, lambda unit: _COUNTS[len(unit.rotors)], frozenset(_COUNTS.values())
        ),
        "has-bypass": Field(Kind.TEXT, lambda unit: _yes_no(unit.bypass), _YES_NO),
        "has-lamps": Field(Kind.TEXT, lambda unit: _yes_no(unit.lamps), _YES_NO),
        "opening": Field(Kind.TRAVEL, lambda _unit: Travel.OPENING),
        "closing": Field(Kind.TRAVEL, lambda _unit: Travel.CLOSING),
        "lamps-in-travel": Field(Kind.LAMPS, lambda unit: Lit(lit_in_travel(unit))),
        "lamps-when-open": Field(Kind.LAMPS, lambda unit: Lit(lit_stopped(unit, Travel.OPENING))),
        "lamps-when-closed": Field(Kind.LAMPS, lambda unit: Lit(lit_stopped(unit, Travel.CLOSING))),
    },
    Kind.ROTOR: {
        "name": Field(Kind.TEXT, lambda of: of.rotor.name),
        "contacts": Field(Kind.CONTACTS, lambda of: of.rotor.contacts),
        "trip": _number("%", lambda of: Quantity(of.unit.trip(of.rotor), "%")),
        "travel": Field(Kind.TRAVEL, lambda of: of.rotor.set_while),
        "approach": Field(Kind.TEXT, _manner, frozenset({"end", "along", "against"})),
        "stop": Field(Kind.TEXT, lambda of: f"{_end(_approach(of).stop)} stop"),
        "to-stop": Field(Kind.TRAVEL, lambda of: _approach(of).stop),
        "away": Field(Kind.TRAVEL, lambda of: _approach(of).away),
        "turns": _number("turns", lambda of: _turns(_approach(of).counted)),
        "search": _number("turns", lambda of: _turns(_approach(of).expected + SEARCH_TURNS)),
        "rounding": Field(Kind.TEXT, _rounding),
        "start": _number("turns", lambda of: _turns(_approach(of).start)),
        "last": _number("turns", lambda of: _turns(_approach(of).expected)),
        "drawn": Field(Kind.READING, lambda of: ContactStates.of(of.unit.past(of.rotor))),
        "before": Field(Kind.READING, lambda of: ContactStates.of(of.unit.before(of.rotor))),
    },
    Kind.ADVICE: {
        "verdict": Field(
            Kind.TEXT,
            lambda advice: advice.verdict.value,
            frozenset({Verdict.ALREADY.value, Verdict.NOT_YET.value}),
        ),
        "finding": Field(Kind.TEXT, lambda advice: _FINDINGS[advice.verdict]),
        "turn": Field(Kind.ROTATION, lambda advice: advice.turn),
        "back": Field(Kind.ROTATION, lambda advice: advice.turn and advice.turn.opposite),
        "leave": Field(Kind.READING, lambda advice: ContactStates.of(advice.leave)),
        "reason": Field(Kind.TEXT, lambda advice: " ".join(advice.reasons)),
    },
    Kind.TRIP: {
        "percent": _number("%", lambda trip: Quantity(trip.percent, "%")),
        "turns": _number("turns", lambda trip: _turns(trip.turns)),
        "error": _number("%", lambda trip: Quantity(trip.error.percent, "%")),
        "error-turns": _number("turns", lambda trip: _turns(trip.error.turns)),
    },
}
"""The fields of every kind that has any."""


def field_of(value: Value, name: str) -> Value:
    """The named field of a value; KeyError where its kind has none."""
    field = FIELDS[value.kind][name]
    return Value(field.kind, field.read(value.content))


def of_meaning(meaning: Meaning) -> Value:
    """The value that a confirmed reply gives."""
    match meaning:
        case ContactStates():
            return Value(Kind.READING, meaning)
        case ShaftTurn(rotation):
            return Value(Kind.ROTATION, rotation)
        case (Quantity() as number) | Called(number=number):
            return Value(Kind.NUMBER, number)
        case Choice(name):
            return Value(Kind.TEXT, name)
        case Spelling(text):
            return Value(Kind.LETTERS, text)
        case Lit():
            return Value(Kind.LAMPS, meaning)
        case Agreement(agrees=agrees):
            return Value(Kind.TEXT, "agreed" if agrees else "not-agreed")
        case Command(word):
            return Value(Kind.TEXT, word.value)
        case Correction():
            raise ValueError(f"{meaning!r} is no answer on its own")


def say(value: Value) -> str:
    """The value in spoken words."""
    return _SAY[value.kind](value.content)


_SAY: Mapping[Kind, Callable[[Any], str]] = {
    Kind.UNIT: lambda unit: spell(unit.tag),
    Kind.ROTOR: lambda of: str(of.rotor.name),
    Kind.CONTACTS: say_contacts,
    Kind.READING: lambda states: say_reading(states.mapping()),
    Kind.ROTATION: str,
    Kind.TRAVEL: lambda travel: f"toward {_end(travel)}",
    Kind.NUMBER: lambda number: say_number(number.value, number.unit),
    Kind.TEXT: str,
    Kind.LETTERS: spell,
    Kind.DATE: lambda day: f"{day.day} {day:%B} {day.year}",
    Kind.MOMENT: lambda moment: f"{moment.at:%H:%M:%S}",
    Kind.LAMPS: say_meaning,
    Kind.ADVICE: lambda advice: " ".join(advice.reasons),
    Kind.SWEEP: lambda sweep: f"{len(sweep.points)} change-overs",
    Kind.TRIP: lambda trip: say_number(trip.percent, "%"),
}
