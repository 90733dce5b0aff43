"""The trade computed: contacts, rotors, shaft direction, travel and pace. Pure, no devices."""

from __future__ import annotations

from assistant.trade.contacts import ContactState, Reading
from assistant.trade.development import (
    FULL_OPEN,
    FULL_SHUT,
    Development,
    DevelopmentError,
    Interval,
    name_contacts,
)
from assistant.trade.motion import Rotation, Travel
from assistant.trade.pace import SHAFT_LIMIT_RPM, least_seconds, rpm, too_fast
from assistant.trade.shaft import Advice, AdviceError, Verdict, advise
from assistant.trade.sheet_faults import Fault, UnitError
from assistant.trade.travel import (
    DEFAULT_BACK_OFF_OPEN,
    DEFAULT_BACK_OFF_POSITION,
    DEFAULT_BACK_OFF_TORQUE,
    BackOff,
    TravelError,
    back_off,
    reference,
    to_percent,
    to_turns,
)
from assistant.trade.unit import (
    DEFAULT_TOLERANCE,
    Lamp,
    Place,
    Rotor,
    Seating,
    Sourced,
    Unit,
)

__all__ = [
    "DEFAULT_BACK_OFF_OPEN",
    "DEFAULT_BACK_OFF_POSITION",
    "DEFAULT_BACK_OFF_TORQUE",
    "DEFAULT_TOLERANCE",
    "FULL_OPEN",
    "FULL_SHUT",
    "SHAFT_LIMIT_RPM",
    "Advice",
    "AdviceError",
    "BackOff",
    "ContactState",
    "Development",
    "DevelopmentError",
    "Fault",
    "Interval",
    "Lamp",
    "Place",
    "Reading",
    "Rotation",
    "Rotor",
    "Seating",
    "Sourced",
    "Travel",
    "TravelError",
    "Unit",
    "UnitError",
    "Verdict",
    "advise",
    "back_off",
    "least_seconds",
    "name_contacts",
    "reference",
    "rpm",
    "to_percent",
    "to_turns",
    "too_fast",
]
