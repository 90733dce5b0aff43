"""Where in travel a rotor is set; with it, turns and percent of travel from `turns`."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.trade.development import FULL_OPEN
from assistant.trade.motion import Travel
from assistant.trade.turns import TravelError, quarter_turns, to_percent, to_turns
from assistant.trade.unit import Place, Rotor, Sourced, Unit

__all__ = [
    "DEFAULT_BACK_OFF_OPEN",
    "DEFAULT_BACK_OFF_POSITION",
    "DEFAULT_BACK_OFF_TORQUE",
    "BackOff",
    "TravelError",
    "back_off",
    "quarter_turns",
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


@dataclass(frozen=True, slots=True)
class BackOff:
    """How far and in which direction to crank away from a stop."""

    turns: Sourced
    toward: Travel


def back_off(unit: Unit, rotor: Rotor) -> BackOff:
    """How far to crank away from the stop at which an end rotor is set.

    Raises:
        TravelError: the rotor is set in mid-travel, at a drawn percentage.
    """
    turns = unit.back_off_at(rotor.place)
    if turns is None:
        raise TravelError(
            f"Rotor {rotor.name} is not set at an end: crank to {unit.trip(rotor):g} % "
            "of travel by counted turns from a stop."
        )
    return BackOff(turns, Travel.CLOSING if rotor.place is Place.OPEN_END else Travel.OPENING)


def reference(unit: Unit, rotor: Rotor) -> float:
    """Where the valve must stand, in percent of travel, while a rotor is set.

    For an end rotor this is the stop less the back-off, for any other the drawn trip.
    """
    if rotor.place is Place.TRAVEL:
        return unit.trip(rotor)
    away = to_percent(back_off(unit, rotor).turns.value, unit.stroke_turns.value)
    return FULL_OPEN - away if rotor.place is Place.OPEN_END else away
