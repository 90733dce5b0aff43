"""An actuator that needs setting."""

from __future__ import annotations

from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit

__all__ = ["set_wrong"]


def set_wrong(unit: Unit) -> Actuator:
    """An actuator with every rotor set wrong: the first has already changed over, the next not."""
    gearings: dict[str, Gearing] = {}
    for index, rotor in enumerate(unit.rotors):
        rotation = Rotation.COUNTERCLOCKWISE if index % 2 else Rotation.CLOCKWISE
        gears = Gearing(revolutions_per_stroke=38.0, rotation_while_opening=rotation, cycle=55.0)
        early = -9.0 if rotor.set_while.value == "opening" else 9.0
        # Too early in its own direction means already changed over; too late, not yet.
        away = early if index % 2 == 0 else -early / 6
        gearings[rotor.name] = gears.tripping_at(unit.trip(rotor) + away)
    return Actuator(unit, gearings, position=40.0)
