"""Two position lamps on contacts of one rotor.

Such lamps change over together, so they show one place in travel and not two, and a rotor that is
set wrong shows both wrong. For the usual pair the closed lamp goes out at the open limit and the
open lamp at the closed limit, on two rotors (common practice, no source).

Passes::

    lamps:
      closed lamp: {colour: green, contact: 2}
      open lamp: {colour: red, contact: 6}

Fails::

    lamps:
      closed lamp: {colour: green, contact: 2}
      open lamp: {colour: red, contact: 1}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """Every lamp after the first on the same rotor."""
    for rotor in sheet.unit.rotors:
        on = [lamp for lamp in sheet.unit.lamps if lamp.contact in rotor.contacts]
        for lamp in on[1:]:
            message = (
                f"'{lamp.name}' and '{on[0].name}' are both on rotor '{rotor.name}' and change "
                "over together: check the contacts"
            )
            yield Finding(sheet.place("lamps", lamp.name), message)


RULE = UnitRule("lamps-on-one-rotor", Level.WARNING, _check)
