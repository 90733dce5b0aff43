"""An end rotor that is drawn a quarter turn or more beside its back-off.

An end rotor is set by counting turns back from its stop, and whole quarter turns are what a person
can count. A wide tolerance lets the drawing and the back-off pass as one even if they are different
counts; then the rotor is set at the count, and never where it is drawn (common practice, no
source).

Passes::

    contacts:
      1: [[97.6, 100]]
      2: [[0, 97.6]]

Fails::

    numbers:
      tolerance: {value: 0.6, origin: site procedure}
    contacts:
      1: [[98, 100]]
      2: [[0, 98]]
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit
from assistant.trade.turns import quarter_turns, to_turns

__all__ = ["RULE"]


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """End rotors whose drawn place is another count of quarter turns than their back-off."""
    unit = sheet.unit
    for rotor in unit.rotors:
        back_off = unit.back_off_at(rotor.place)
        if back_off is None:
            continue
        drawn = quarter_turns(to_turns(unit.trip_from_stop(rotor), unit.stroke_turns.value))
        if drawn != quarter_turns(back_off.value):
            message = (
                f"rotor '{rotor.name}' is drawn at {unit.trip(rotor):g} %, about {drawn:g} turns "
                f"from its stop, and its back-off is {back_off.value:g}: which of them is right?"
            )
            yield Finding(sheet.place("rotors", rotor.name), message)


RULE = UnitRule("trip-beside-back-off", Level.WARNING, _check)
