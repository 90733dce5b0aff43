"""A number that is written with its unit: ``38 newton metres``."""

from __future__ import annotations

import math

from assistant.language.english import english
from assistant.language.meaning import Quantity
from assistant.procedure.fields import DECIMAL, as_text, quoted
from assistant.procedure.located import Located, ScalarNode
from assistant.procedure.problems import refuse

__all__ = ["LARGEST_WRITTEN", "begins_as_number", "read_quantity", "read_unit_name"]

LARGEST_WRITTEN = 999_999.0
"""Above it a number is said in single figures, and nobody follows."""


def begins_as_number(value: Located) -> bool:
    """Whether something is written as a number, and not as the name of one."""
    return isinstance(value, ScalarNode) and value.text.strip()[:1] in set("0123456789.+-")


def read_quantity(value: Located, what: str) -> Quantity:
    """A number and its unit, which the phrase book knows."""
    text = as_text(value, what)
    figures, _, unit = text.partition(" ")
    number = float(figures) if DECIMAL.fullmatch(figures) else math.nan
    if not (abs(number) <= LARGEST_WRITTEN and unit):
        message = f"{what} must be a number with its unit, like '38 turns', not {quoted(text)}"
        refuse(value.place, message, "type")
    return Quantity(number, _unit(unit, value))


def read_unit_name(value: Located, what: str) -> str:
    """A unit that the phrase book knows."""
    return _unit(as_text(value, what), value)


def _unit(name: str, value: Located) -> str:
    if english().unit(name) is None:
        known = ", ".join(unit.names[0] for unit in english().units)
        message = f"the phrase book has no words for the unit {quoted(name)}; it knows {known}"
        refuse(value.place, message, "type")
    return name
