"""One slow stroke by hand from one stop to the other, which finds every trip.

The technician cranks slowly, counts turns from the stop, and wherever a contact changes says the
turns and reads all contacts. At the other stop the count is the length of the full stroke.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from types import MappingProxyType

from assistant.trade.contacts import ContactState, Reading
from assistant.trade.development import name_contacts
from assistant.trade.motion import Travel
from assistant.trade.unit import Rotor, Unit

__all__ = ["Point", "Sweep", "SweepError", "disagreement"]


class SweepError(ValueError):
    """A count or a reading that does not fit into a sweep; its text is fit to be spoken."""


@dataclass(frozen=True, slots=True)
class Point:
    """A place where something changed.

    Args:
        turns: handwheel turns from the stop where the sweep began.
        reading: the states of all contacts just past that place.
    """

    turns: float
    reading: Reading = field(hash=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "reading", MappingProxyType(dict(self.reading)))


@dataclass(frozen=True, slots=True)
class Sweep:
    """A slow stroke, as far as it has come.

    Args:
        toward: the direction of travel.
        start: the contacts at the stop where it began.
        points: where something changed, in the order of the stroke.
        length: handwheel turns of the full stroke; None before the other stop is reached.

    Raises:
        SweepError: the count goes back, a reading leaves out a contact or has another one, or the
            stroke has no length.
    """

    toward: Travel
    start: Reading = field(hash=False)
    points: tuple[Point, ...] = ()
    length: float | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "start", MappingProxyType(dict(self.start)))
        counts = [0.0, *(point.turns for point in self.points)]
        if self.length is not None:
            _refuse_no_stroke(self.length)
            counts.append(self.length)
        for before, after in pairwise(counts):
            _refuse_back(before, after)
        for point in self.points:
            _refuse_other_contacts(self.start, point.reading)

    @property
    def last(self) -> Reading:
        """The contacts as they were read last."""
        return self.points[-1].reading if self.points else self.start

    def add(self, turns: float, reading: Reading) -> Sweep:
        """The sweep with one more place.

        Args:
            turns: handwheel turns from the stop where the sweep began.
            reading: the states of all contacts just past that place.

        Raises:
            SweepError: the count goes back, the contacts are not those of the start, or the sweep
                has ended.
        """
        self._refuse_ended()
        return replace(self, points=(*self.points, Point(turns, reading)))

    def end(self, turns: float) -> Sweep:
        """The sweep with the other stop reached after so many handwheel turns.

        Raises:
            SweepError: the count goes back or is 0, or the sweep has ended.
        """
        self._refuse_ended()
        return replace(self, length=turns)

    def changes(self, contact: int) -> tuple[int, ...]:
        """The points, numbered from 0, at which a contact reads otherwise than just before."""
        states = [self.start[contact], *(point.reading[contact] for point in self.points)]
        return tuple(n for n, (before, after) in enumerate(pairwise(states)) if before != after)

    def _refuse_ended(self) -> None:
        if self.length is not None:
            raise SweepError("The stroke has ended: crank back to begin another.")


def disagreement(unit: Unit, reading: Reading, ignoring: Collection[int] = ()) -> str | None:
    """What in a reading cannot be, for the technician to read again.

    The contacts of one rotor change over together, so all that were read on it stand either as
    past its trip or as before it. Where they do not, the fewer of them are the odd ones.

    Args:
        unit: the unit sheet.
        reading: states of any of its contacts.
        ignoring: contacts that are known to be wrong.

    Returns:
        A short sentence that names the odd contacts, or None where there are none.
    """
    seen = {contact: state for contact, state in reading.items() if contact not in ignoring}
    found = [sides for rotor in unit.rotors if all(sides := _sides(unit, rotor, seen))]
    match found:
        case []:
            return None
        case [(odd, rest)]:
            verb = "does" if len(odd) == 1 else "do"
            return f"{name_contacts(odd).capitalize()} {verb} not go with {name_contacts(rest)}."
        case _:
            odd = sorted(contact for sides in found for contact in sides[0])
            return (
                f"{name_contacts(odd).capitalize()} do not go with the other contacts of their "
                "rotors."
            )


def _sides(
    unit: Unit, rotor: Rotor, seen: Mapping[int, ContactState]
) -> tuple[list[int], list[int]]:
    """The contacts that were read on the two sides of a trip, the fewer first."""
    past = unit.past(rotor)
    read = sorted(contact for contact in rotor.contacts if contact in seen)
    as_past = [contact for contact in read if seen[contact] == past[contact]]
    as_before = [contact for contact in read if seen[contact] != past[contact]]
    few, many = sorted((as_past, as_before), key=lambda side: (len(side), side))
    return few, many


def _refuse_no_stroke(length: float) -> None:
    if not 0 < length < math.inf:
        raise SweepError(f"A stroke of {length:g} turns is none: count it again.")


def _refuse_back(before: float, after: float) -> None:
    if not before <= after < math.inf:
        raise SweepError(f"{after:g} turns cannot come after {before:g}.")


def _refuse_other_contacts(start: Reading, reading: Reading) -> None:
    if missing := sorted(_only_in(start, reading)):
        raise SweepError(f"Read all contacts: {name_contacts(missing)} was not read.")
    if more := sorted(_only_in(reading, start)):
        raise SweepError(f"{name_contacts(more).capitalize()} was not read at the stop.")


def _only_in(one: Reading, other: Reading) -> Iterator[int]:
    return (contact for contact in one if contact not in other)
