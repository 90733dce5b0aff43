"""The contact development as a picture: where over travel each contact is closed, and the trips.

Only what stands where; the lines and shapes are the page's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count

from assistant.record.rotors import RotorResult, Trip
from assistant.record.words import clean
from assistant.trade.development import FULL_OPEN, FULL_SHUT, Interval
from assistant.trade.unit import Rotor, Unit

__all__ = ["ContactLine", "Mark", "Picture", "RotorDrawn", "picture"]

ROW = 24
"""Height of a row in the picture's own pixels."""


@dataclass(frozen=True, slots=True)
class ContactLine:
    """One contact: its number, its row from the top, and its closed intervals in percent."""

    number: int
    row: int
    closed: tuple[Interval, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """A trip that is drawn, was found, or was left.

    Args:
        kind: "drawn", "found" or "left", which the page gives each its own shape.
        row: from the top.
        percent: of travel.
    """

    kind: str
    row: int
    percent: float

    @property
    def at(self) -> float:
        """Where it is shown: a trip outside the stroke at the stroke's end."""
        return min(max(self.percent, FULL_SHUT), FULL_OPEN)


@dataclass(frozen=True, slots=True)
class RotorDrawn:
    """One rotor: its name's row, its contacts and its trips below."""

    name: str
    row: int
    contacts: tuple[ContactLine, ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """The whole picture: the rotors and the number of rows."""

    rotors: tuple[RotorDrawn, ...]
    rows: int


def picture(unit: Unit, results: Sequence[RotorResult]) -> Picture:
    """Lay out the development of a unit, with the trips of those rotors that have a result."""
    by_name = {result.name: result for result in results}
    rows = count(1)
    rotors = tuple(
        _rotor(unit, rotor, by_name.get(clean(rotor.name)), rows) for rotor in unit.rotors
    )
    return Picture(rotors, next(rows))


def _rotor(unit: Unit, rotor: Rotor, result: RotorResult | None, rows: Iterator[int]) -> RotorDrawn:
    closed = unit.development.closed
    return RotorDrawn(
        name=clean(rotor.name),
        row=next(rows),
        contacts=tuple(ContactLine(n, next(rows), closed[n]) for n in rotor.contacts),
        marks=tuple(
            Mark(kind, next(rows), percent) for kind, percent in _trips(unit, rotor, result)
        ),
    )


def _trips(unit: Unit, rotor: Rotor, result: RotorResult | None) -> Iterator[tuple[str, float]]:
    yield "drawn", unit.trip(rotor)
    found: tuple[tuple[str, Trip | None], ...] = ()
    if result is not None:
        found = (("found", result.first_found), ("left", result.trip))
    for kind, trip in found:
        if trip is not None:
            yield kind, trip.percent
