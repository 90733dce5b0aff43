"""How the rotors of a simulated actuator were set before a job begins.

The names are those of the verdicts: a rotor that changes over too early in the direction in which
it is drawn has *already* changed over at its place, one that changes over too late has *not yet*
(common practice, no source).
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing, Sense
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.motion import Rotation, Travel
from assistant.trade.unit import Rotor, Unit

__all__ = ["Found", "Setting", "built", "found_wrong"]

REVOLUTIONS_PER_STROKE = 38.0
CYCLE = 55.0
"""Shaft revolutions; those of an invented unit."""

EARLY = 9.0
LATE = 1.5
"""How far from the drawn place, in percent of travel; late, there is little room at an end."""

BEGINS_AT = 40.0
"""Where the valve stands at first, in percent of travel."""


class Setting(enum.StrEnum):
    """How a rotor was set."""

    AS_DRAWN = "as-drawn"
    ALREADY = "already"
    NOT_YET = "not-yet"
    INVERTED = "inverted"
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class Found:
    """A rotor as it is found.

    Args:
        setting: where it changes over.
        rotation: how its shaft turns while the valve opens.
    """

    setting: Setting
    rotation: Rotation


def found_wrong(unit: Unit) -> dict[str, Found]:
    """Every rotor set wrong: the first has already changed over, the next not yet, and so on."""
    return dict(_wrong(unit))


def _wrong(unit: Unit) -> Iterator[tuple[str, Found]]:
    for index, rotor in enumerate(unit.rotors):
        if index % 2:
            yield rotor.name, Found(Setting.NOT_YET, Rotation.COUNTERCLOCKWISE)
        else:
            yield rotor.name, Found(Setting.ALREADY, Rotation.CLOCKWISE)


def built(unit: Unit, found: Mapping[str, Found], position: float = BEGINS_AT) -> Actuator:
    """A simulated actuator whose rotors are found so.

    Args:
        unit: its unit sheet.
        found: for each of its rotors, by name.
        position: where the valve stands, in percent of travel.

    Raises:
        RigError: the rotors are not those of the unit.
    """
    gearings = {
        rotor.name: _gearing(unit, rotor, found[rotor.name])
        for rotor in unit.rotors
        if rotor.name in found
    }
    return Actuator(unit, gearings, position)


def _gearing(unit: Unit, rotor: Rotor, found: Found) -> Gearing:
    gears = Gearing(REVOLUTIONS_PER_STROKE, found.rotation, CYCLE)
    drawn = unit.trip(rotor)
    on = 1 if rotor.set_while is Travel.OPENING else -1
    match found.setting:
        case Setting.ALREADY:
            return gears.tripping_at(max(FULL_SHUT, min(FULL_OPEN, drawn - on * EARLY)))
        case Setting.NOT_YET:
            return gears.tripping_at(max(FULL_SHUT, min(FULL_OPEN, drawn + on * LATE)))
        case Setting.INVERTED:
            return gears.tripping_at(drawn, Sense.INVERTED)
        case Setting.NEVER:
            return gears.standing_past(rotor.set_while.opposite)
    return gears.tripping_at(drawn)
