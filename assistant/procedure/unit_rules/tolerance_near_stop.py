"""A tolerance that reaches more than half way from an end rotor to its stop.

A trip within the tolerance is proved. At a torque-seated valve a rotor that trips as late as that
lets the motor run on nearly into the stop, and a miscount of the back-off by half goes unnoticed. A
tolerance that reaches the stop itself is refused (common practice, no source).

Passes::

    numbers:
      tolerance: {value: 1.2, origin: site procedure}

Fails::

    numbers:
      tolerance: {value: 1.3, origin: site procedure}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, UnitRule
from assistant.procedure.unit_sheet import LocatedUnit

__all__ = ["RULE"]

_HALF = 0.5
_ROUNDING = 1e-9


def _check(sheet: LocatedUnit) -> Iterator[Finding]:
    """End rotors whose trip may be found more than half way to their stop."""
    unit = sheet.unit
    for rotor in unit.rotors:
        if unit.back_off_at(rotor.place) is None:
            continue
        from_stop, tolerance = unit.trip_from_stop(rotor), unit.tolerance.value
        if tolerance > _HALF * from_stop + _ROUNDING:
            message = (
                f"rotor '{rotor.name}' is drawn {from_stop:.3g} % from its stop, and with a "
                f"tolerance of {tolerance:g} % a trip more than half way there is proved: state a "
                "smaller tolerance"
            )
            yield Finding(sheet.place("numbers", "tolerance"), message)


RULE = UnitRule("tolerance-near-stop", Level.WARNING, _check)
