"""An open limit that lets the valve run onto its backseat.

The open limit stops travel short of the backseat; routine backseating breaks stems (NRC Information
Notices 87-40 and 82-10). The motor still turns for a moment after the contact has opened, so a trip
half a turn or less before the open stop is near it (half a turn: common practice, no source).

Passes::

    numbers:
      back-off-open: {value: 1, origin: common practice}
    contacts:
      1: [[97.5, 100]]
      2: [[0, 97.5]]

Fails::

    numbers:
      back-off-open: {value: 0.5, origin: site procedure}
    contacts:
      1: [[98.75, 100]]
      2: [[0, 98.75]]
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.development import FULL_OPEN
from assistant.trade.sheet import Place
from assistant.trade.turns import to_turns

__all__ = ["NEAR_TURNS", "RULE"]

NEAR_TURNS = 0.5
"""Handwheel turns before the open stop; from here on a trip is near it."""

_ROUNDING = 1e-9


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """Rotors at the open end that trip close to the open stop."""
    unit = sheet.unit
    for rotor in unit.rotors:
        before = to_turns(FULL_OPEN - unit.trip(rotor), unit.stroke_turns.value)
        if rotor.place is Place.OPEN_END and before <= NEAR_TURNS + _ROUNDING:
            message = (
                f"rotor '{rotor.name}' trips {before:.2g} turns before the open stop: the motor "
                "may run the valve onto its backseat; check the drawing"
            )
            yield Finding(sheet.place("rotors", rotor.name), message)


RULE = UnitRule("backseat", Level.WARNING, _check)
