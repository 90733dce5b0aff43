"""The rig: a simulated actuator, with its motor, behind the interface of the real work."""

from __future__ import annotations

from assistant.rig.actuator import Actuator, ChangeOver, Drive
from assistant.rig.gearing import Gearing, RigError, Sense
from assistant.rig.motor import Motor, StoppedBy, Stroke, lamps_lit
from assistant.rig.random_units import unit_from

__all__ = [
    "Actuator",
    "ChangeOver",
    "Drive",
    "Gearing",
    "Motor",
    "RigError",
    "Sense",
    "StoppedBy",
    "Stroke",
    "lamps_lit",
    "unit_from",
]
