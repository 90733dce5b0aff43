"""A bypass that is not on the rotor of the closed end.

The shipped procedure proves the bypass by the trip of the rotor ``closed``. A bypass on another
rotor is proved by a trip that is not its own. Usually contact 5 bypasses the torque switch, on the
second rotor, which is set at the closed end (common practice, no source).

Passes::

    seating: torque
    bypass-contact: 5

Fails::

    seating: torque
    rotors:
      open: {contacts: [1], set-at: open end, set-while: opening}
      closed: {contacts: [5, 6], set-at: closed end, set-while: closing}
      third: {contacts: [2], set-at: travel, set-while: opening}
      fourth: {contacts: [9], set-at: travel, set-while: opening}
    contacts:
      2: [[0, 5]]
      9: [[0, 30]]
    bypass-contact: 2
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.sheet import Place

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """A bypass contact on a rotor that is set somewhere else."""
    for rotor in sheet.unit.rotors:
        if sheet.unit.bypass in rotor.contacts and rotor.place is not Place.CLOSED_END:
            message = (
                f"contact {sheet.unit.bypass} is on rotor '{rotor.name}', and the bypass is proved "
                "by the trip of the rotor at the closed end: check the number"
            )
            yield Finding(sheet.place("bypass-contact"), message)


RULE = UnitRule("bypass-elsewhere", Level.WARNING, _check)
