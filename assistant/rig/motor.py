"""The motor of a simulated actuator, and the lamps of its control circuit.

What is modelled (common practice, no source). A stroke is stopped by the rotor of the end that it
was commanded to, just past its trip, and coasts on; the motor does not start where that rotor
stands past its trip already. Closing a torque-seated valve goes on past the trip to the closed
stop, where torque stops it. Where the rotor does not change over on the way, being far out of
setting or not driven, where it changes over inverted, or where two phases are exchanged, nothing
stops the motor before the hard stop, which damages the valve.

What is not. All contacts of a rotor count as its limit contact, and the first rotor that the sheet
sets at an end as the one that stops there. Torque stops nothing but the seating: no torque switch
ends a stroke in mid-travel or at the open stop, and its bypass does nothing. A torque-seated valve
whose closed rotor stands past its trip is not driven on to the seat, though it really would be. A
jog is not held back by a limit switch. Speed is even: inrush, starting and stopping take no time,
and the coast is reckoned at full speed. A hard stop leaves the rig as it was.
"""

from __future__ import annotations

import enum
import math
from dataclasses import dataclass

from assistant.rig.actuator import Actuator
from assistant.rig.gearing import RigError
from assistant.trade.contacts import ContactState
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.motion import Travel
from assistant.trade.travel import to_turns
from assistant.trade.unit import Place, Rotor, Seating

__all__ = ["Motor", "Sight", "StoppedBy", "Stroke", "lamps_lit"]

JOG = 1.0
"""How far a jog moves the valve, in percent of travel."""

Sight = tuple[float, tuple[str, ...]]
"""A place in percent of travel, and the names of the lamps lit from there on."""


class StoppedBy(enum.StrEnum):
    """What ended a stroke."""

    LIMIT = "limit"
    TORQUE = "torque"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Stroke:
    """One electrical stroke.

    Args:
        seconds: how long the motor ran.
        stopped_by: what ended it, or did not let it start.
        travel: how far the valve moved, in percent.
        lamps: what was lit at the start and from each change of the lamps on, in the order met.
    """

    seconds: float
    stopped_by: StoppedBy
    travel: float
    lamps: tuple[Sight, ...]


def lamps_lit(rig: Actuator) -> tuple[str, ...]:
    """The names of the lamps that are lit now, in the order of the sheet."""
    return tuple(
        lamp.name for lamp in rig.unit.lamps if rig.read(lamp.contact) is ContactState.CLOSED
    )


@dataclass(slots=True)
class Motor:
    """Drives the valve of an actuator.

    Args:
        rig: the actuator.
        seconds: of a full stroke.
        coast: how far the valve goes on after its limit switch, in percent of travel.
        reversed: whether two phases are exchanged, so that the valve moves the other way.

    Raises:
        RigError: the seconds are not greater than 0, or the coast is negative.
    """

    rig: Actuator
    seconds: float
    coast: float = 0.2
    reversed: bool = False

    def __post_init__(self) -> None:
        if not 0 < self.seconds < math.inf:
            raise RigError(f"A stroke cannot take {self.seconds} s: give more than 0.")
        if not 0 <= self.coast < math.inf:
            raise RigError(f"A valve cannot coast by {self.coast} %: give 0 or more.")

    def jog(self, toward: Travel) -> Travel:
        """Run for a moment; answers the direction in which the valve was really driven."""
        really = self._really(toward)
        self.rig.crank(self._turns(JOG), really)
        return really

    def stroke(self, toward: Travel) -> Stroke:
        """Run until something stops it."""
        before = self.rig.position
        watch = _Watch(self.rig)
        stopped_by = self._run(toward, watch)
        travel = abs(self.rig.position - before)
        return Stroke(travel / FULL_OPEN * self.seconds, stopped_by, travel, tuple(watch.sights))

    def _run(self, toward: Travel, watch: _Watch) -> StoppedBy:
        really = self._really(toward)
        limit = self._limit(toward)
        if limit is not None and self._past(limit, toward):
            return StoppedBy.LIMIT
        if limit is None or self._seats(toward):
            watch.run(really)
            return self._at_the_stop(toward)
        # A rotor may change over more than once where it was set far out, or slips.
        while watch.run(really, limit.contacts):
            if self._past(limit, toward):
                watch.run(really, at_most=self._turns(self.coast))
                return StoppedBy.LIMIT
        return self._at_the_stop(toward)

    def _really(self, toward: Travel) -> Travel:
        return toward.opposite if self.reversed else toward

    def _turns(self, percent: float) -> float:
        return to_turns(percent, self.rig.unit.stroke_turns.value)

    def _seats(self, toward: Travel) -> bool:
        return toward is Travel.CLOSING and self.rig.unit.seating is Seating.TORQUE

    def _at_the_stop(self, toward: Travel) -> StoppedBy:
        """Torque stops what was closing and has reached its seat, and nothing else."""
        seated = self._seats(toward) and self.rig.position == FULL_SHUT
        return StoppedBy.TORQUE if seated else StoppedBy.STOP

    def _past(self, rotor: Rotor, toward: Travel) -> bool:
        return self.rig.reading(rotor.contacts) == self.rig.unit.past(rotor, toward)

    def _limit(self, toward: Travel) -> Rotor | None:
        """The rotor that stops the motor in this direction; None where the sheet has none."""
        place = Place.OPEN_END if toward is Travel.OPENING else Place.CLOSED_END
        return next((rotor for rotor in self.rig.unit.rotors if rotor.place is place), None)


class _Watch:
    """Somebody at the lamps while the motor runs."""

    def __init__(self, rig: Actuator) -> None:
        self._rig = rig
        self._lamps = tuple(lamp.contact for lamp in rig.unit.lamps)
        self.sights: list[Sight] = [(rig.position, lamps_lit(rig))]

    def run(self, toward: Travel, until: tuple[int, ...] = (), at_most: float = math.inf) -> bool:
        """Run until these contacts change over; answers whether they did, before the stop.

        Args:
            toward: which way the valve really moves.
            until: the contacts; without any it runs to the stop or `at_most`.
            at_most: handwheel turns after which to stop.
        """
        before = self._rig.reading(until)
        while True:
            made = self._rig.crank_until_change((*until, *self._lamps), toward, at_most)
            self._note()
            if made is None or self._rig.reading(until) != before:
                return made is not None
            at_most -= made

    def _note(self) -> None:
        lit = lamps_lit(self._rig)
        if lit != self.sights[-1][1]:
            self.sights.append((self._rig.position, lit))
