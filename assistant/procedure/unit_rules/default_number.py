"""A tolerance that nobody at the site has chosen.

What counts where a sheet is silent was put into this program so that it can be tried. Whether a
rotor is set right is decided by ``tolerance``, and whether a stroke took too long by
``stroke-time-tolerance``: the site has to choose them. Site procedure overrides every default
(common practice, no source).

Passes::

    numbers:
      tolerance: {value: 0.5, origin: site procedure}

Fails::

    numbers:
      tolerance: {value: 0.5, origin: default of this program}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.sheet import DEFAULT_TOLERANCE

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """Numbers in use whose origin is this program."""
    unit = sheet.unit
    for name, number in unit.numbers.items():
        if name == "stroke_time_tolerance" and unit.stroke_seconds is None:
            continue
        if number.origin == DEFAULT_TOLERANCE.origin:
            written = name.replace("_", "-")
            message = (
                f"'{written}' is the {number.origin}, {number.value:g} {number.unit}: "
                "state the number of the site's own procedure with its origin"
            )
            yield Finding(sheet.place("numbers", written), message)


RULE = UnitRule("default-number", Level.WARNING, _check)
