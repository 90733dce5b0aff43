"""A unit whose sheet was found right, and the questions that it answers.

A sheet is checked as a whole when a `Unit` is built, so nothing in the program can hold a unit
whose drawing contradicts itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean

from assistant.trade.contacts import ContactState
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.motion import Travel
from assistant.trade.sheet import (
    DEFAULT_STROKE_TIME_TOLERANCE,
    DEFAULT_TOLERANCE,
    Drive,
    Lamp,
    Place,
    Rotor,
    Seating,
    Sheet,
    Sourced,
)
from assistant.trade.sheet_faults import Fault, UnitError, sheet_faults

__all__ = [
    "DEFAULT_STROKE_TIME_TOLERANCE",
    "DEFAULT_TOLERANCE",
    "Drive",
    "Fault",
    "Lamp",
    "Place",
    "Rotor",
    "Seating",
    "Sourced",
    "Unit",
    "UnitError",
]


_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Unit(Sheet):
    """A checked unit sheet; its arguments are those of `Sheet`.

    The trip of a rotor is one point in travel, so every contact must change over exactly once
    within the stroke; intermediate bands of travel cannot be described.

    Raises:
        UnitError: anything in the sheet is wrong; it carries every fault.
    """

    def __post_init__(self) -> None:
        if faults := tuple(sheet_faults(self)):
            raise UnitError(faults)

    def rotor(self, name: str) -> Rotor:
        """The rotor of that name; raises UnitError naming the rotors that exist."""
        for rotor in self.rotors:
            if rotor.name == name:
                return rotor
        known = ", ".join(rotor.name for rotor in self.rotors)
        raise UnitError((Fault(("rotors", name), f"{self.tag} has no such rotor; it has {known}"),))

    def trip(self, rotor: Rotor) -> float:
        """Where the rotor is drawn to change over: percent of travel, the mean of its edges."""
        return fmean(self.development.single_edges(rotor.contacts).values())

    def trip_from_stop(self, rotor: Rotor) -> float:
        """How far from its stop an end rotor is drawn to change over: percent of travel."""
        trip = self.trip(rotor)
        return FULL_OPEN - trip if rotor.place is Place.OPEN_END else trip

    def past(self, rotor: Rotor, travel: Travel | None = None) -> dict[int, ContactState]:
        """States of the rotor's contacts just past its trip.

        Args:
            rotor: one of this unit's.
            travel: the direction of travel; without it, the one in which the rotor is set.
        """
        # Each contact has one edge, so past it nothing changes any more up to the end of travel.
        opening = (travel or rotor.set_while) is Travel.OPENING
        end = FULL_OPEN if opening else FULL_SHUT
        return {contact: self.development.state_at(contact, end) for contact in rotor.contacts}

    def before(self, rotor: Rotor) -> dict[int, ContactState]:
        """States of the rotor's contacts just before its trip, in the direction it is set in."""
        return self.past(rotor, rotor.set_while.opposite)

    @property
    def stroke_seconds(self) -> Sourced | None:
        """How long a full electrical stroke takes by the sheet's data; None where it has none."""
        if self.stated_seconds is not None:
            return self.stated_seconds
        if self.drive is None:
            return None
        return Sourced(self.drive.seconds, "seconds", "computed from the drive data of the sheet")

    def stroke_time_differs(self, seconds: float) -> bool:
        """Whether a measured stroke time is outside the tolerance; without data never."""
        data = self.stroke_seconds
        if data is None:
            return False
        allowed = self.stroke_time_tolerance.value / 100 * data.value
        return abs(seconds - data.value) > allowed + _ROUNDING

    def expected(self, travel: float) -> dict[int, ContactState]:
        """States of all contacts at a place in travel, in percent from 0 to 100."""
        line = self.development
        return {contact: line.state_at(contact, travel) for contact in line.contacts}
