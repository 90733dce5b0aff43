"""Every rule, in the order of the writer's guide."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.procedure.rules import (
    answer_counts,
    begins_another,
    condition_first,
    deed_told,
    drawing_compared,
    expected_value,
    few_repeats,
    fresh_direction,
    gate_first,
    hold_exit,
    imperative_first,
    independent_check,
    isolated_first,
    known_words,
    mixed_and_or,
    notice_without_action,
    one_action,
    one_breath,
    one_name,
    one_number,
    own_direction,
    own_words,
    proof_fits,
    question_asked,
    read_back_first,
    revision_stated,
    rod_in_first,
    rotor_proved,
    said_deed,
    said_direction,
    said_rotor,
    sound_alike,
    speed_limit,
    spoken_length,
    unit_told,
    vague_words,
    verification_kind,
    words_told,
)
from assistant.procedure.rules.rule import Rule

__all__ = ["RULES"]

_MODULES = (
    isolated_first,
    rod_in_first,
    gate_first,
    speed_limit,
    read_back_first,
    own_direction,
    fresh_direction,
    said_direction,
    said_rotor,
    said_deed,
    proof_fits,
    rotor_proved,
    known_words,
    sound_alike,
    begins_another,
    own_words,
    words_told,
    deed_told,
    question_asked,
    answer_counts,
    unit_told,
    one_action,
    imperative_first,
    notice_without_action,
    condition_first,
    mixed_and_or,
    vague_words,
    expected_value,
    one_name,
    one_number,
    spoken_length,
    one_breath,
    hold_exit,
    few_repeats,
    verification_kind,
    independent_check,
    revision_stated,
    drawing_compared,
)

RULES: Mapping[str, Rule] = MappingProxyType({one.RULE.name: one.RULE for one in _MODULES})
"""The rules by their names."""
