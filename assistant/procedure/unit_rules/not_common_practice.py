"""A back-off that calls itself common practice and is not.

Common practice, no source: 1 turn back from the open stop; from the closed stop 1.5 turns of a
valve that seats on torque, and 0.5 turn of one that seats on position. Another number can be right,
but then it comes from somewhere else.

Passes::

    numbers:
      back-off-open: {value: 1.25, origin: site procedure}
    contacts:
      1: [[96.9, 100]]
      2: [[0, 96.9]]

Fails::

    numbers:
      back-off-open: {value: 1.25, origin: common practice}
    contacts:
      1: [[96.9, 100]]
      2: [[0, 96.9]]
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.travel import (
    DEFAULT_BACK_OFF_OPEN,
    DEFAULT_BACK_OFF_POSITION,
    DEFAULT_BACK_OFF_TORQUE,
)

__all__ = ["RULE"]

_PRACTICE = {
    "back_off_open": DEFAULT_BACK_OFF_OPEN,
    "back_off_torque": DEFAULT_BACK_OFF_TORQUE,
    "back_off_position": DEFAULT_BACK_OFF_POSITION,
}


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """Back-offs with the origin of common practice and another value."""
    for name, number in sheet.unit.back_offs.items():
        practice = _PRACTICE[name]
        if number.origin == practice.origin and number.value != practice.value:
            written = name.replace("_", "-")
            message = (
                f"'{written}' is {number.value:g} turns, and {practice.origin} is "
                f"{practice.value:g}: correct the number, or say where it comes from"
            )
            yield Finding(sheet.place("numbers", written), message)


RULE = UnitRule("not-common-practice", Level.WARNING, _check)
