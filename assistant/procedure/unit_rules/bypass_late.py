"""A bypass that does not open soon after the disk has left its seat.

While it is closed, torque cannot stop the motor: it must stay closed until the disk has left its
seat, and open soon after (IE Circulars 77-01 and 81-13). What is soon they leave to the drawing; a
tenth of travel is common practice, no source.

Passes::

    bypass-contact: 5

Fails::

    rotors:
      open: {contacts: [1, 2], set-at: open end, set-while: opening}
      closed: {contacts: [5, 6], set-at: closed end, set-while: closing}
      third: {contacts: [9], set-at: travel, set-while: opening}
      fourth: {contacts: [13], set-at: travel, set-while: closing}
    contacts:
      9: [[0, 30]]
      13: [[0, 60]]
    bypass-contact: 9
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit

__all__ = ["LATEST", "RULE"]

LATEST = 10.0
"""Percent of travel at which a bypass is open at the latest."""


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """A bypass that is closed beyond a tenth of travel."""
    contact = sheet.unit.bypass
    if contact is None:
        return
    opens = max(sheet.unit.development.edges(contact))
    if opens > LATEST:
        message = (
            f"contact {contact} bypasses the torque switch until {opens:g} % of travel: it should "
            f"open soon after the disk has left its seat, by {LATEST:g} %; check the drawing"
        )
        yield Finding(sheet.place("contacts", contact), message)


RULE = UnitRule("bypass-late", Level.WARNING, _check)
