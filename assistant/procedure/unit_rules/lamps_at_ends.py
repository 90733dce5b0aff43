"""Lamps that do not tell the ends of travel apart.

At the two ends different lamps are lit, and at each of them one at least: a dark panel looks like a
blown fuse. For the usual pair only the closed lamp is lit at the closed end, and only the open lamp
at the open end (common practice, no source).

Passes::

    lamps:
      closed lamp: {colour: green, contact: 2}
      open lamp: {colour: red, contact: 6}

Fails::

    lamps:
      closed lamp: {colour: green, contact: 1}
      open lamp: {colour: red, contact: 6}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.lamps import lit

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """Lamps that are dark at an end, or the same at both."""
    if not sheet.unit.lamps:
        return
    ends = {"closed": lit(sheet.unit, FULL_SHUT), "open": lit(sheet.unit, FULL_OPEN)}
    dark = [end for end, lamps in ends.items() if not lamps]
    if dark:
        message = f"no lamp is lit at the {dark[0]} end: check their contacts"
    elif ends["closed"] == ends["open"]:
        message = "the same lamps are lit at both ends of travel: check their contacts"
    else:
        return
    yield Finding(sheet.place("lamps"), message)


RULE = UnitRule("lamps-at-ends", Level.WARNING, _check)
