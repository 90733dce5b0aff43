"""The rig: a simulated actuator behind the interface of the real work."""

from __future__ import annotations

from assistant.rig.actuator import Actuator, ChangeOver, Drive
from assistant.rig.gearing import Gearing, RigError, Sense

__all__ = ["Actuator", "ChangeOver", "Drive", "Gearing", "RigError", "Sense"]
