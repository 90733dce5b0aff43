"""How a rotor is brought to its place by counted turns, and how its trip is proved by hand.

Turns are counted from a stop: an end rotor's own, for a rotor in travel the nearer one, because
the fewer turns there are the fewer can be miscounted.

The proof counts anew from that stop instead of going on from where the rotor was set. A back-off
that was miscounted would be miscounted away again if the valve only went back across the point;
counted anew, it shows as a trip error. And it stops at `start`, before the trip in the drawn
direction, where the contacts must stand as *before* it: a rotor that was set at the inverted
change-over, by turning its shaft the wrong way, stands there as past it.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.trade.development import FULL_OPEN
from assistant.trade.motion import Travel
from assistant.trade.turns import quarter_turns, to_turns
from assistant.trade.unit import Place, Rotor, Unit

__all__ = ["PROOF_MARGIN", "Approach", "approach"]

PROOF_MARGIN = 1.0
"""Handwheel turns before the trip from where it is looked for (common practice, no source)."""

_HALF_TRAVEL = FULL_OPEN / 2


@dataclass(frozen=True, slots=True)
class Approach:
    """How a rotor is approached; every count is in handwheel turns.

    Args:
        stop: the direction of travel that leads to the stop from which turns are counted.
        away: the direction away from that stop.
        turns: exact turns from that stop to the reference.
        counted: the same to the quarter turn.
        toward: the direction of travel in which the rotor is meant to change over.
        start: turns from that stop to where the proof begins.
        expected: turns from there on, in that direction, to the change-over.
    """

    stop: Travel
    away: Travel
    turns: float
    counted: float
    toward: Travel
    start: float
    expected: float


def approach(unit: Unit, rotor: Rotor) -> Approach:
    """How to bring the valve to where a rotor is set, and to where its proof begins.

    A proof that would begin beyond one of the stops begins at that stop.
    """
    stop, toward = _stop(unit, rotor), rotor.set_while
    turns = _turns(unit, rotor, stop)
    counted = quarter_turns(turns)
    if toward is stop:
        start = min(counted + PROOF_MARGIN, unit.stroke_turns.value)
    else:
        start = max(counted - PROOF_MARGIN, 0.0)
    return Approach(stop, stop.opposite, turns, counted, toward, start, abs(counted - start))


def _stop(unit: Unit, rotor: Rotor) -> Travel:
    match rotor.place:
        case Place.OPEN_END:
            return Travel.OPENING
        case Place.CLOSED_END:
            return Travel.CLOSING
        case Place.TRAVEL:
            return Travel.CLOSING if unit.trip(rotor) <= _HALF_TRAVEL else Travel.OPENING


def _turns(unit: Unit, rotor: Rotor, stop: Travel) -> float:
    away = unit.back_off_at(rotor.place)
    if away is not None:
        return away.value
    trip = unit.trip(rotor)
    percent = trip if stop is Travel.CLOSING else FULL_OPEN - trip
    return to_turns(percent, unit.stroke_turns.value)
