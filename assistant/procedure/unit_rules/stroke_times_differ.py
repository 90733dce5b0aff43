"""A stroke time that is not the one of the drive data.

A sheet may state both. The stated one counts; if they differ by more than the tolerance, a number
of one or the other is wrong. Seconds = 60 x travel x gear ratio / (motor rpm x stem lead): with
304.8 mm, 60 to 1, 1700 rpm and 12.7 mm, 50.8 s (arithmetic).

Passes::

    numbers:
      stroke-seconds: {value: 51, origin: commissioning record}
      stem-travel: {value: 304.8, origin: data plate}
      gear-ratio: {value: 60, origin: data plate}
      motor-speed: {value: 1700, origin: data plate}
      stem-lead: {value: 12.7, origin: data plate}

Fails::

    numbers:
      stroke-seconds: {value: 51, origin: commissioning record}
      stem-travel: {value: 304.8, origin: data plate}
      gear-ratio: {value: 60, origin: data plate}
      motor-speed: {value: 1430, origin: data plate}
      stem-lead: {value: 12.7, origin: data plate}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """A stated time that differs from the computed one by more than the tolerance."""
    unit = sheet.unit
    if unit.stated_seconds is None or unit.drive is None:
        return
    if unit.stroke_time_differs(unit.drive.seconds):
        message = (
            f"'stroke-seconds' is {unit.stated_seconds.value:g}, and the drive data give "
            f"{unit.drive.seconds:.1f}: one of the numbers is wrong"
        )
        yield Finding(sheet.place("numbers", "stroke-seconds"), message)


RULE = UnitRule("stroke-times-differ", Level.WARNING, _check)
