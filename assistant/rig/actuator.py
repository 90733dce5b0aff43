"""A simulated actuator: the mechanism that a technician sets, without the valve.

What is modelled. Each rotor has an intermediate shaft (`assistant.rig.gearing`). While its drive
is engaged, the shaft follows the valve, one way for opening and the other way for closing; while
it is disengaged, the shaft can be turned by hand. One setting rod does both: pressed and turned it
disengages, and when it has come fully out again the drive is engaged. Since an "out" rod thus
means an engaged drive, everything here speaks of the drive and not of the rod.

What is not: backlash, lost motion of the handwheel, the time a snap takes, a contact that fails,
the spring of a torque-seated valve.
"""

from __future__ import annotations

import copy
import enum
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from assistant.rig.gearing import Gearing, RigError, Sense, Shaft
from assistant.trade.contacts import ContactState
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.motion import Rotation, Travel
from assistant.trade.travel import to_percent, to_turns
from assistant.trade.unit import Unit

__all__ = ["Actuator", "ChangeOver", "Drive", "RigError", "Sense"]

_FINEST_TURNS = 1e-9
"""Handwheel turns that count as none: what the sums lose by rounding, and no hand resolves."""

_FINEST_PERCENT = 1e-6
"""Percent of travel, the same."""


class Drive(enum.StrEnum):
    """Whether the valve drives the shafts, as the setting rod has it."""

    ENGAGED = "engaged"
    HALF_ENGAGED = "half engaged"
    DISENGAGED = "disengaged"


# A half-engaged drive slips; how much is arbitrary, that it loses the setting is what matters.
_GRIP = {Drive.ENGAGED: 1.0, Drive.HALF_ENGAGED: 0.5, Drive.DISENGAGED: 0.0}


@dataclass(frozen=True, slots=True)
class ChangeOver:
    """A change-over found by moving the valve.

    Args:
        percent: where in travel, from 0 to 100.
        sense: as drawn, or inverted.
    """

    percent: float
    sense: Sense


class Actuator:
    """A unit on the bench, with the housing open.

    Args:
        unit: its unit sheet.
        gearings: for each of its rotors, by name, how it is geared and was set before.
        position: where the valve stands at first, in percent of travel.

    Raises:
        RigError: the rotors are not those of the unit, or the valve stands outside its stroke.
    """

    def __init__(
        self, unit: Unit, gearings: Mapping[str, Gearing], position: float = FULL_SHUT
    ) -> None:
        names = [rotor.name for rotor in unit.rotors]
        if set(gearings) != set(names):
            raise RigError(f"{unit.tag} has rotors {', '.join(names)}: give a gearing for each.")
        if not FULL_SHUT <= position <= FULL_OPEN:
            raise RigError(f"A valve cannot stand at {position} %: give 0 to 100 %.")
        self.unit = unit
        self._stroke = unit.stroke_turns.value
        self._turns = to_turns(position, self._stroke)
        self._shafts = {name: Shaft.standing(gearings[name], position) for name in names}
        # A contact is read far more often than an actuator is built.
        self._contacts = dict(_contacts(unit))
        self._drive = Drive.ENGAGED
        self._seen: dict[str, Rotation] = {}

    @property
    def position(self) -> float:
        """Where the valve stands, in percent of travel."""
        return to_percent(self._turns, self._stroke)

    @property
    def position_turns(self) -> float:
        """Where the valve stands, in handwheel turns from the closed stop."""
        return self._turns

    @property
    def drive(self) -> Drive:
        """Whether the shafts are really driven, whatever it looks like."""
        return self._drive

    @property
    def seen(self) -> dict[str, Rotation]:
        """How each rotor's shaft turned during the last crank; empty where none turned."""
        return dict(self._seen)

    def crank(self, turns: float, toward: Travel) -> float:
        """Crank the handwheel; answers the turns really made, fewer where a stop is reached.

        Raises:
            RigError: the turns are negative or not finite.
        """
        _refuse_uncountable(turns)
        opening = toward is Travel.OPENING
        room = self._room(toward)
        made = min(turns, room)
        self._move(made if opening else -made)
        if made == room:
            self._turns = self._stroke if opening else 0.0
        return made

    def crank_to_stop(self, toward: Travel) -> float:
        """Crank until the stop; answers the turns made."""
        return self.crank(self._stroke, toward)

    def crank_until_change(
        self, contacts: Iterable[int], toward: Travel, at_most: float = math.inf
    ) -> float | None:
        """Crank slowly until any of these contacts just changes over.

        The place follows from the gears, so it is exact however far away it lies.

        Args:
            contacts: the contacts that are watched.
            toward: which way to crank.
            at_most: handwheel turns after which to give up.

        Returns:
            The turns made: the contact reads as past its change-over. None where the stop or
            `at_most` came first: the valve then stands there.

        Raises:
            RigError: `at_most` is negative or no number, or no rotor carries a contact.
        """
        if not at_most >= 0:
            raise RigError(f"{at_most} turns cannot be made: give 0 or more.")
        sign = _sign(toward)
        away = {name: self._turns_away(name, sign) for name in self._carrying(contacts)}
        limit = min(at_most, self._room(toward))
        nearest = min(away.values(), default=math.inf)
        if nearest > limit + _FINEST_TURNS:
            self.crank(limit, toward)
            return None
        # Trips in the same place change over together, whatever the sums say.
        due = [self._shafts[name] for name in away if away[name] <= nearest + _FINEST_TURNS]
        reached = [shaft.following(sign) for shaft in due]
        made = self.crank(min(nearest, limit), toward)
        for shaft, change_over in zip(due, reached, strict=True):
            shaft.stand_on(change_over)
        return made

    def _room(self, toward: Travel) -> float:
        """Handwheel turns left to the stop."""
        return self._stroke - self._turns if toward is Travel.OPENING else self._turns

    def _carrying(self, contacts: Iterable[int]) -> list[str]:
        """The rotors that carry any of these contacts, each once."""
        return list(dict.fromkeys(self._contact(contact)[0] for contact in contacts))

    def _turns_away(self, rotor: str, sign: int) -> float:
        """Handwheel turns to a rotor's next change-over; infinite where its shaft stands still."""
        shaft = self._shafts[rotor]
        followed = _GRIP[self._drive] * shaft.gearing.revolutions_per_stroke / self._stroke
        return shaft.away(sign) / followed if followed else math.inf

    def _move(self, turns: float) -> None:
        """Move the valve, opening positive, and every shaft as far as its drive takes it along."""
        self._turns += turns
        self._seen = {}
        grip = _GRIP[self._drive]
        for name, shaft in self._shafts.items():
            if followed := grip * turns / self._stroke * shaft.gearing.revolutions_per_stroke:
                shaft.turn(followed)
                opening = shaft.gearing.rotation_while_opening
                self._seen[name] = opening if followed > 0 else opening.opposite

    def disengage(self) -> None:
        """Press and turn the rod: the shafts can be turned and no longer follow the valve."""
        self._drive = Drive.DISENGAGED

    def engage(self) -> None:
        """Turn the rod back and let it come fully out: the shafts follow the valve again."""
        self._drive = Drive.ENGAGED

    def engage_half(self) -> None:
        """Let the rod come only half out, by mistake.

        The drive looks engaged, yet the shafts can still be turned by hand, and they slip on the
        first crank.
        """
        self._drive = Drive.HALF_ENGAGED

    def shaft_moves(self, rotor: str) -> bool:
        """Whether the shaft gives way when it is tried by hand; trying leaves it as it was."""
        self._shaft(rotor)
        return self._drive is not Drive.ENGAGED

    def turn_shaft(self, rotor: str, rotation: Rotation, revolutions: float) -> float:
        """Turn a shaft by hand; answers the revolutions really made, 0 where it is engaged.

        Raises:
            RigError: the revolutions are negative or not finite.
        """
        _refuse_uncountable(revolutions)
        if not self.shaft_moves(rotor):
            return 0.0
        shaft = self._shaft(rotor)
        shaft.turn(shaft.sign(rotation) * revolutions)
        return revolutions

    def turn_until_change(self, rotor: str, rotation: Rotation, at_most: float) -> float | None:
        """Turn a shaft by hand until its contacts just change over.

        Args:
            rotor: name of the rotor.
            rotation: which way to turn.
            at_most: revolutions after which to give up.

        Returns:
            The revolutions made, or None where nothing changed: the shaft then stands `at_most`
            revolutions on, or where it was if it is engaged.

        Raises:
            RigError: `at_most` is negative or not finite.
        """
        _refuse_uncountable(at_most)
        if not self.shaft_moves(rotor):
            return None
        shaft = self._shaft(rotor)
        return shaft.turn_until_snap(shaft.sign(rotation), at_most)

    def read(self, contact: int) -> ContactState:
        """State of a contact; raises RigError where no rotor carries it."""
        rotor, states = self._contact(contact)
        return states[self._shafts[rotor].side]

    def _contact(self, contact: int) -> tuple[str, Mapping[Travel, ContactState]]:
        """The rotor that carries a contact, and the contact's state on either side of its trip."""
        if contact not in self._contacts:
            raise RigError(f"{self.unit.tag} has no contact {contact}.")
        return self._contacts[contact]

    def reading(self, contacts: Iterable[int]) -> dict[int, ContactState]:
        """States of several contacts."""
        return {contact: self.read(contact) for contact in contacts}

    def measure(self, rotor: str) -> tuple[ChangeOver, ...]:
        """Find where a rotor really changes over, by stroking a copy of this actuator.

        The copy is engaged and cranked over the full stroke in the direction in which the
        rotor is meant to change over, while its contacts are read.

        Returns:
            The change-overs in the order met; none where the rotor does not trip in the stroke.
        """
        measured = self.unit.rotor(rotor)
        toward = measured.set_while
        twin = self._twin()
        twin.engage()
        twin.crank_to_stop(toward.opposite)
        found = []
        while twin.crank_until_change(measured.contacts, toward) is not None:
            drawn = twin.reading(measured.contacts) == self.unit.past(measured)
            found.append(ChangeOver(twin.position, Sense.DRAWN if drawn else Sense.INVERTED))
        return tuple(found)

    def is_as_drawn(self, rotor: str) -> bool:
        """Whether a rotor changes over once, in the drawn sense, where it is drawn to.

        That is within the tolerance of the sheet.
        """
        found = self.measure(rotor)
        tolerance = self.unit.tolerance.value + _FINEST_PERCENT
        return (
            len(found) == 1
            and found[0].sense is Sense.DRAWN
            and abs(found[0].percent - self.unit.trip(self.unit.rotor(rotor))) <= tolerance
        )

    def _twin(self) -> Actuator:
        twin = copy.copy(self)
        twin._shafts = {name: shaft.twin() for name, shaft in self._shafts.items()}
        return twin

    def _shaft(self, rotor: str) -> Shaft:
        return self._shafts.get(rotor) or self._shafts[self.unit.rotor(rotor).name]


def _contacts(unit: Unit) -> Iterator[tuple[int, tuple[str, dict[Travel, ContactState]]]]:
    """Each contact with the rotor that carries it, and its state on either side of the trip."""
    for rotor in unit.rotors:
        sides = {side: unit.past(rotor, side) for side in Travel}
        for contact in rotor.contacts:
            yield contact, (rotor.name, {side: sides[side][contact] for side in Travel})


def _sign(toward: Travel) -> int:
    return 1 if toward is Travel.OPENING else -1


def _refuse_uncountable(turns: float) -> None:
    if not 0 <= turns < math.inf:
        raise RigError(f"{turns} turns cannot be made: give 0 or more.")
