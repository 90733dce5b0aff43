"""Handwheel turns, percent of travel, and where in travel a rotor is set."""

from __future__ import annotations

import math
from dataclasses import dataclass

from assistant.trade.development import FULL_OPEN
from assistant.trade.motion import Travel
from assistant.trade.unit import Place, Rotor, Seating, Sourced, Unit

__all__ = [
    "DEFAULT_BACK_OFF_OPEN",
    "DEFAULT_BACK_OFF_POSITION",
    "DEFAULT_BACK_OFF_TORQUE",
    "BackOff",
    "TravelError",
    "back_off",
    "reference",
    "to_percent",
    "to_turns",
]

DEFAULT_BACK_OFF_OPEN = Sourced(1.0, "turns", "common practice")
"""Handwheel turns back from the open stop."""

DEFAULT_BACK_OFF_TORQUE = Sourced(1.5, "turns", "common practice")
"""Handwheel turns back from the closed stop of a valve that seats on torque."""

DEFAULT_BACK_OFF_POSITION = Sourced(0.5, "turns", "common practice")
"""Handwheel turns back from the closed stop of a valve that seats on position."""


class TravelError(ValueError):
    """A travel that cannot be reckoned, or a rotor that is set in another way."""


@dataclass(frozen=True, slots=True)
class BackOff:
    """How far and in which direction to crank away from a stop."""

    turns: Sourced
    toward: Travel


def to_turns(percent: float, stroke_turns: float) -> float:
    """Handwheel turns that make up a part of the travel.

    Args:
        percent: part of the travel [%]; negative for the other direction.
        stroke_turns: handwheel turns of the full stroke.

    Raises:
        TravelError: a value is not finite, or the stroke is not positive.

    >>> to_turns(25, 48)
    12.0
    """
    _refuse_unreckonable(percent, stroke_turns)
    return percent / FULL_OPEN * stroke_turns


def to_percent(turns: float, stroke_turns: float) -> float:
    """Part of the travel that handwheel turns make up, in percent.

    Args:
        turns: handwheel turns; negative for the other direction.
        stroke_turns: handwheel turns of the full stroke.

    Raises:
        TravelError: a value is not finite, or the stroke is not positive.

    >>> to_percent(12, 48)
    25.0
    """
    _refuse_unreckonable(turns, stroke_turns)
    return turns / stroke_turns * FULL_OPEN


def back_off(unit: Unit, rotor: Rotor) -> BackOff:
    """How far to crank away from the stop at which an end rotor is set.

    Raises:
        TravelError: the rotor is set in mid-travel, at a drawn percentage.
    """
    match rotor.place:
        case Place.OPEN_END:
            return BackOff(unit.back_off_open, Travel.CLOSING)
        case Place.CLOSED_END if unit.seating is Seating.TORQUE:
            return BackOff(unit.back_off_torque, Travel.OPENING)
        case Place.CLOSED_END:
            return BackOff(unit.back_off_position, Travel.OPENING)
        case Place.TRAVEL:
            raise TravelError(
                f"Rotor {rotor.name} is not set at an end: crank to {unit.trip(rotor):g} % "
                "of travel by counted turns from a stop."
            )


def reference(unit: Unit, rotor: Rotor) -> float:
    """Where the valve must stand, in percent of travel, while a rotor is set.

    For an end rotor this is the stop less the back-off, for any other the drawn trip.
    """
    if rotor.place is Place.TRAVEL:
        return unit.trip(rotor)
    away = to_percent(back_off(unit, rotor).turns.value, unit.stroke_turns.value)
    return FULL_OPEN - away if rotor.place is Place.OPEN_END else away


def _refuse_unreckonable(amount: float, stroke_turns: float) -> None:
    if not math.isfinite(amount):
        raise TravelError(f"{amount} is no amount of travel: give a number.")
    if not 0 < stroke_turns < math.inf:
        raise TravelError(f"A full stroke of {stroke_turns} turns is impossible: give more than 0.")
