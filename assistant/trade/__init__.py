"""The trade computed: contacts, rotors, shaft direction, travel and pace. Pure, no devices."""

from __future__ import annotations

from assistant.trade.approach import PROOF_MARGIN, Approach, approach
from assistant.trade.bypass import ends_early
from assistant.trade.contacts import ContactState, Reading
from assistant.trade.development import (
    FULL_OPEN,
    FULL_SHUT,
    Development,
    DevelopmentError,
    Interval,
    name_contacts,
)
from assistant.trade.drive import stroke_seconds
from assistant.trade.found import RotorFound, find
from assistant.trade.lamps import MID_TRAVEL, lit, lit_in_travel, lit_stopped
from assistant.trade.motion import Rotation, Travel
from assistant.trade.noise import allowed_hours
from assistant.trade.pace import SHAFT_LIMIT_RPM, least_seconds, rpm, too_fast
from assistant.trade.patterns import Pattern, PatternKind, patterns
from assistant.trade.proof import TripError, trip_error
from assistant.trade.shaft import Advice, AdviceError, Verdict, advise
from assistant.trade.sheet_faults import Fault, UnitError
from assistant.trade.sweep import Point, Sweep, SweepError, disagreement
from assistant.trade.travel import (
    DEFAULT_BACK_OFF_OPEN,
    DEFAULT_BACK_OFF_POSITION,
    DEFAULT_BACK_OFF_TORQUE,
    BackOff,
    TravelError,
    back_off,
    quarter_turns,
    reference,
    to_percent,
    to_turns,
)
from assistant.trade.trip import Sense
from assistant.trade.unit import (
    DEFAULT_STROKE_TIME_TOLERANCE,
    DEFAULT_TOLERANCE,
    Drive,
    Lamp,
    Place,
    Rotor,
    Seating,
    Sourced,
    Unit,
)
from assistant.trade.verification import Visit, independence_faults, same_person

__all__ = [
    "DEFAULT_BACK_OFF_OPEN",
    "DEFAULT_BACK_OFF_POSITION",
    "DEFAULT_BACK_OFF_TORQUE",
    "DEFAULT_STROKE_TIME_TOLERANCE",
    "DEFAULT_TOLERANCE",
    "FULL_OPEN",
    "FULL_SHUT",
    "MID_TRAVEL",
    "PROOF_MARGIN",
    "SHAFT_LIMIT_RPM",
    "Advice",
    "AdviceError",
    "Approach",
    "BackOff",
    "ContactState",
    "Development",
    "DevelopmentError",
    "Drive",
    "Fault",
    "Interval",
    "Lamp",
    "Pattern",
    "PatternKind",
    "Place",
    "Point",
    "Reading",
    "Rotation",
    "Rotor",
    "RotorFound",
    "Seating",
    "Sense",
    "Sourced",
    "Sweep",
    "SweepError",
    "Travel",
    "TravelError",
    "TripError",
    "Unit",
    "UnitError",
    "Verdict",
    "Visit",
    "advise",
    "allowed_hours",
    "approach",
    "back_off",
    "disagreement",
    "ends_early",
    "find",
    "independence_faults",
    "least_seconds",
    "lit",
    "lit_in_travel",
    "lit_stopped",
    "name_contacts",
    "patterns",
    "quarter_turns",
    "reference",
    "rpm",
    "same_person",
    "stroke_seconds",
    "to_percent",
    "to_turns",
    "too_fast",
    "trip_error",
]
