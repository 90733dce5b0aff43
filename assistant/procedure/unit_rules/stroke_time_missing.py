"""A sheet without the time of a full stroke.

The electrical stroke is timed; without data the time is recorded and compared with nothing, so a
motor that runs slowly is not noticed. It follows from the drive too: seconds = 60 x travel x gear
ratio / (motor rpm x stem lead) (arithmetic).

Passes::

    numbers:
      stroke-seconds: {value: 51, origin: commissioning record}

Fails::

    numbers:
      tolerance: {value: 0.5, origin: site procedure}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.sheet_numbers import DRIVE
from assistant.procedure.unit_sheet import LocatedUnit

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """A sheet from which no stroke time follows."""
    if sheet.unit.stroke_seconds is None:
        message = (
            "no stroke time: a measured one would be compared with nothing; state "
            f"'stroke-seconds', or all of {', '.join(DRIVE)}"
        )
        yield Finding(sheet.place("numbers"), message)


RULE = UnitRule("stroke-time-missing", Level.WARNING, _check)
