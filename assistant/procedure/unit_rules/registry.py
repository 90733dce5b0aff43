"""Every rule for unit sheets, in the order of a sheet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.procedure.rules.rule import UnitRule
from assistant.procedure.unit_rules import (
    backseat,
    bypass_elsewhere,
    bypass_late,
    bypass_unnamed,
    default_number,
    lamps_at_ends,
    lamps_on_one_rotor,
    not_common_practice,
    stroke_time_missing,
    stroke_times_differ,
    tolerance_near_stop,
    tolerance_under_count,
    trip_beside_back_off,
)

__all__ = ["UNIT_RULES"]

_MODULES = (
    bypass_unnamed,
    default_number,
    not_common_practice,
    stroke_time_missing,
    stroke_times_differ,
    trip_beside_back_off,
    tolerance_near_stop,
    tolerance_under_count,
    backseat,
    bypass_elsewhere,
    bypass_late,
    lamps_on_one_rotor,
    lamps_at_ends,
)

UNIT_RULES: Mapping[str, UnitRule] = MappingProxyType({m.RULE.name: m.RULE for m in _MODULES})
"""The rules by their names."""
