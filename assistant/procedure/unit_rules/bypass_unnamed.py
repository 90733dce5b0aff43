"""A torque-seated valve whose bypass of the torque switch is not named.

The bypass gives the full torque of the motor while the disk leaves its seat (IE Circular 81-13);
one that ended before kept valves shut (IE Circular 77-01). The shipped procedure proves it where
the sheet names its contact, and nothing where it does not.

Passes::

    seating: torque
    bypass-contact: 5

Fails::

    seating: torque
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.sheet import Seating

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """A torque-seated valve without 'bypass-contact'."""
    if sheet.unit.seating is Seating.TORQUE and sheet.unit.bypass is None:
        message = (
            "the valve seats on torque and no 'bypass-contact' is named: name the contact that "
            "bypasses the torque switch, or nothing proves it"
        )
        yield Finding(sheet.place("seating"), message)


RULE = UnitRule("bypass-unnamed", Level.WARNING, _check)
