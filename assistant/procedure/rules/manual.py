"""The manual of a rule: the docstring of its module."""

from __future__ import annotations

import inspect
import sys

from assistant.procedure.rules.rule import Rule, UnitRule

__all__ = ["first_sentence", "manual_of"]


def manual_of(rule: Rule | UnitRule) -> str:
    """Why a rule is there, where it comes from, and its samples."""
    return inspect.cleandoc(sys.modules[rule.check.__module__].__doc__ or "")


def first_sentence(rule: Rule | UnitRule) -> str:
    """What a rule wants, in a sentence."""
    return manual_of(rule).partition("\n")[0]
