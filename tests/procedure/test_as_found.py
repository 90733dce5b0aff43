"""What is said of a rotor as it was found by the slow stroke.

Whole quarter turns are what a person can count (common practice, no source), so a count is known to
an eighth of a turn. The numbers are arithmetic on KF-07: 62 turns, the open rotor drawn at 98.4 %.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.computing.computation import Finding
from assistant.procedure.values import Kind, RotorOfUnit, Trip, Value
from assistant.trade import Sense, Sourced
from tests.session.job import kf
from tests.trade.slow_stroke import drawn_trips, stroke

TURN = 100 / 62
"""One turn of KF-07's handwheel in percent of travel."""


def found(tolerance: float, at: float, sense: Sense = Sense.DRAWN) -> Finding:
    """The open rotor of a KF-07 with such a tolerance [%], found so at a place [%]."""
    unit = replace(kf("07"), tolerance=Sourced(tolerance, "%", "site procedure"))
    swept = stroke(unit, {**drawn_trips(unit), "open": (at, sense)})
    rotor = Value(Kind.ROTOR, RotorOfUnit(unit, unit.rotor("open")))
    sweep = Value(Kind.SWEEP, swept)
    return COMPUTATIONS["as-found"].run({"rotor": rotor, "sweep": sweep})


@pytest.mark.parametrize(
    ("tolerance", "off", "outcome", "told"),
    [
        (0.5, 0.0, "right", ", as drawn."),
        (0.5, 0.18 * TURN, "right", ", as drawn."),  # 0.5 % is 0.31 of a turn
        (0.5, 0.25 * TURN, "wrong", ", within tolerance by the count, but quarter turns"),
        (0.5, -0.25 * TURN, "wrong", ", within tolerance by the count, but quarter turns"),
        (0.5, -0.5 * TURN, "wrong", ", zero point eight one percent too far closed."),
        (0.5, 0.5 * TURN, "wrong", ", zero point eight one percent too far open."),
        (0.2, 0.0, "wrong", ", within tolerance by the count, but quarter turns"),  # 0.12 turns
        (0.2, 0.25 * TURN, "wrong", ", zero point four percent too far open."),
    ],
)
def test_a_rotor_is_told_to_be_off_only_where_it_is(
    tolerance: float, off: float, outcome: str, told: str
) -> None:
    finding = found(tolerance, 98.4 + off)
    assert finding.outcome == outcome
    assert told in finding.because
    assert finding.result is not None
    trip: Trip = finding.result.content
    assert ("too far" in finding.because) is not trip.error.within


def test_an_inverted_rotor_is_told_as_that_wherever_it_is() -> None:
    finding = found(0.5, 98.4, Sense.INVERTED)
    assert (finding.outcome, finding.because[-11:]) == ("wrong", ", inverted.")
