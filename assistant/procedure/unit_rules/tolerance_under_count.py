"""A tolerance that counting in quarter turns cannot prove.

Whole quarter turns are what a person can count (common practice, no source), so a count may be off
by half of one. Where the tolerance is smaller than that, a rotor that was found exactly where it is
drawn may yet be outside of it: it is told as "within tolerance by the count" and has to be set, and
its proof tells no more than that the count is right.

Passes::

    numbers:
      tolerance: {value: 0.32, origin: site procedure}

Fails::

    numbers:
      tolerance: {value: 0.3, origin: site procedure}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.computing.sweep import COUNTING
from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.turns import to_percent

__all__ = ["RULE"]

_ROUNDING = 1e-9


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """A tolerance of less than half a quarter turn of this stroke."""
    tolerance, stroke = sheet.unit.tolerance.value, sheet.unit.stroke_turns.value
    least = to_percent(COUNTING, stroke)
    if tolerance + _ROUNDING < least:
        message = (
            f"a count of quarter turns may be off by {least:.3g} % of this stroke, so it cannot "
            f"prove a trip to within {tolerance:g} %, and no rotor may stay as it was found: state "
            "a wider tolerance if the site allows one"
        )
        yield Finding(sheet.place("numbers", "tolerance"), message)


RULE = UnitRule("tolerance-under-count", Level.WARNING, _check)
