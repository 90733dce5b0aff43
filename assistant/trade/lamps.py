"""The position lamps: which are lit where, as the contact development has it.

A lamp is lit while its contact is closed. Colours follow the site's convention, and conventions
conflict, so a colour says nothing here. For the usual pair of lamps (common practice, no source):
only the closed lamp at the closed end, both through mid-travel, only the open lamp past the open
limit.
"""

from __future__ import annotations

from assistant.trade.contacts import ContactState, Reading
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.motion import Travel
from assistant.trade.unit import Place, Seating, Unit

__all__ = ["MID_TRAVEL", "lit", "lit_in_travel", "lit_stopped"]

MID_TRAVEL = 50.0
"""Where the valve stands, in percent of travel, before it is first run electrically."""


def lit(unit: Unit, travel: float) -> tuple[str, ...]:
    """The names of the lamps that are lit at a place in travel, in percent from 0 to 100.

    Raises:
        DevelopmentError: the place lies outside the stroke.
    """
    return _lit(unit, unit.expected(travel))


def lit_in_travel(unit: Unit) -> tuple[str, ...]:
    """The lamps that are lit at mid-travel."""
    return lit(unit, MID_TRAVEL)


def lit_stopped(unit: Unit, travel: Travel) -> tuple[str, ...]:
    """The lamps that are lit when an electrical stroke in this direction has stopped by itself.

    A limit switch stops it just past the trip of the end rotor. A torque-seated valve goes on
    closing to its seat, where torque stops it, and so does a valve without a rotor at that end.
    """
    place = Place.OPEN_END if travel is Travel.OPENING else Place.CLOSED_END
    at_end = [rotor for rotor in unit.rotors if rotor.place is place]
    seats = travel is Travel.CLOSING and unit.seating is Seating.TORQUE
    if seats or not at_end:
        return lit(unit, FULL_OPEN if travel is Travel.OPENING else FULL_SHUT)
    states = unit.expected(unit.trip(at_end[0]))
    for rotor in at_end:
        states |= unit.past(rotor, travel)
    return _lit(unit, states)


def _lit(unit: Unit, states: Reading) -> tuple[str, ...]:
    return tuple(lamp.name for lamp in unit.lamps if states[lamp.contact] is ContactState.CLOSED)
