"""The two invented actuators of the project's scenario and a job's papers: proof of nothing."""

from __future__ import annotations

from dataclasses import replace

from assistant.trade import (
    DEFAULT_BACK_OFF_OPEN,
    DEFAULT_BACK_OFF_POSITION,
    DEFAULT_BACK_OFF_TORQUE,
    DEFAULT_TOLERANCE,
    Development,
    Interval,
    Lamp,
    Place,
    Rotor,
    Seating,
    Sourced,
    Travel,
    Unit,
)

__all__ = [
    "CLOSED",
    "FOURTH",
    "KF_07",
    "KF_12",
    "OPEN",
    "PAPERS",
    "THIRD",
    "above",
    "below",
    "turns",
]

PAPERS = {
    "technician": "RV",
    "checker": "JT",
    "work-order": "W417",
    "tester": "T12",
    "tester-due": "2099-12-31",
}
"""Invented papers of a job, as they are typed before it."""

OPEN = Rotor("open", (1, 2, 3, 4), Place.OPEN_END, Travel.OPENING)
CLOSED = Rotor("closed", (5, 6, 7, 8), Place.CLOSED_END, Travel.CLOSING)
THIRD = Rotor("third", (9, 10, 11, 12), Place.TRAVEL, Travel.OPENING)
FOURTH = Rotor("fourth", (13, 14, 15, 16), Place.TRAVEL, Travel.CLOSING)


def above(percent: float) -> tuple[Interval, ...]:
    """Closed from there to full open."""
    return ((percent, 100.0),)


def below(percent: float) -> tuple[Interval, ...]:
    """Closed from the seat to there."""
    return ((0.0, percent),)


def turns(value: float) -> Sourced:
    """Handwheel turns."""
    return Sourced(value, "turns", "invented")


KF_07 = Unit(
    tag="KF-07",
    service="gate valve",
    drawing="KF-E-207",
    revision="C",
    seating=Seating.TORQUE,
    rotors=(OPEN, CLOSED),
    development=Development(
        {
            **dict.fromkeys((1, 2), above(98.4)),
            **dict.fromkeys((3, 4), below(98.4)),
            **dict.fromkeys((5, 6), below(2.4)),
            **dict.fromkeys((7, 8), above(2.4)),
        }
    ),
    lamps=(Lamp("closed lamp", "green", 3), Lamp("open lamp", "red", 7)),
    stroke_turns=turns(62),
    back_off_open=DEFAULT_BACK_OFF_OPEN,
    back_off_torque=DEFAULT_BACK_OFF_TORQUE,
    back_off_position=DEFAULT_BACK_OFF_POSITION,
    cycle_revolutions=None,
    tolerance=DEFAULT_TOLERANCE,
)

KF_12 = replace(
    KF_07,
    tag="KF-12",
    service="penstock gate",
    drawing="KF-E-212",
    revision="A",
    seating=Seating.POSITION,
    rotors=(OPEN, CLOSED, THIRD, FOURTH),
    development=Development(
        {
            **dict.fromkeys((1, 2), above(97.9)),
            **dict.fromkeys((3, 4), below(97.9)),
            **dict.fromkeys((5, 6), below(1.0)),
            **dict.fromkeys((7, 8), above(1.0)),
            **dict.fromkeys((9, 10), above(25.0)),
            **dict.fromkeys((11, 12), below(25.0)),
            **dict.fromkeys((13, 14), below(60.0)),
            **dict.fromkeys((15, 16), above(60.0)),
        }
    ),
    stroke_turns=turns(48),
)
