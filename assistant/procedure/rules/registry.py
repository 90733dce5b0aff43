"""Every rule, in the order of the writer's guide."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.procedure.rules import (
    begins_another,
    gate_first,
    isolated_first,
    known_words,
    own_words,
    read_back_first,
    rod_in_first,
    sound_alike,
    speed_limit,
)
from assistant.procedure.rules.rule import Rule

__all__ = ["RULES"]

_MODULES = (
    isolated_first,
    rod_in_first,
    gate_first,
    speed_limit,
    read_back_first,
    known_words,
    sound_alike,
    begins_another,
    own_words,
)

RULES: Mapping[str, Rule] = MappingProxyType({one.RULE.name: one.RULE for one in _MODULES})
"""The rules by their names."""
