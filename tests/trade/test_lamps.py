from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.trade import (
    ContactState,
    DevelopmentError,
    Lamp,
    Place,
    Seating,
    Travel,
    Unit,
    lit,
    lit_in_travel,
    lit_stopped,
)
from tests.units import CLOSED, KF_07, KF_12, OPEN, above, below

CLOSED_LAMP, OPEN_LAMP = "closed lamp", "open lamp"


# The usual pair of lamps: common practice, no source.
@pytest.mark.parametrize(
    ("percent", "names"),
    [
        (0, (CLOSED_LAMP,)),
        (2.3, (CLOSED_LAMP,)),
        (2.5, (CLOSED_LAMP, OPEN_LAMP)),
        (50, (CLOSED_LAMP, OPEN_LAMP)),
        (98.3, (CLOSED_LAMP, OPEN_LAMP)),
        (98.5, (OPEN_LAMP,)),
        (100, (OPEN_LAMP,)),
    ],
)
def test_the_usual_pair_over_the_stroke(percent: float, names: tuple[str, ...]) -> None:
    assert lit(KF_07, percent) == names


@pytest.mark.parametrize("unit", [KF_07, KF_12])
def test_both_through_mid_travel_and_one_at_each_end(unit: Unit) -> None:
    assert lit_in_travel(unit) == (CLOSED_LAMP, OPEN_LAMP)
    assert lit_stopped(unit, Travel.OPENING) == (OPEN_LAMP,)
    assert lit_stopped(unit, Travel.CLOSING) == (CLOSED_LAMP,)


def test_colours_say_nothing() -> None:
    # Conventions conflict, so exchanged colours change nothing (common practice, no source).
    other = replace(KF_07, lamps=(Lamp(CLOSED_LAMP, "red", 3), Lamp(OPEN_LAMP, "green", 7)))
    assert lit(other, 50) == lit(KF_07, 50)


def test_the_motor_stops_before_what_lies_between_the_limit_and_the_stop() -> None:
    # A rotor in travel drawn at 99.5 %, beyond the open limit of 97.9 %: it has not tripped where
    # the limit switch stops the motor, close to, but not on, the open stop (common practice).
    lines = dict(KF_12.development.closed)
    lines |= dict.fromkeys((9, 10), above(99.5)) | dict.fromkeys((11, 12), below(99.5))
    unit = replace(
        KF_12,
        development=replace(KF_12.development, closed=lines),
        lamps=(Lamp("beyond", "white", 9), Lamp(OPEN_LAMP, "red", 1)),
    )
    assert lit_stopped(unit, Travel.OPENING) == (OPEN_LAMP,)
    assert lit(unit, 100) == ("beyond", OPEN_LAMP)


@pytest.mark.parametrize(
    ("seating", "names"),
    # On torque the valve goes on to its seat after the limit; on position the limit stops it
    # (common practice, no source).
    [(Seating.TORQUE, ()), (Seating.POSITION, ("before the seat",))],
)
def test_a_torque_seated_valve_goes_on_to_its_seat(seating: Seating, names: tuple[str]) -> None:
    lines = dict(KF_12.development.closed)
    lines |= dict.fromkeys((9, 10), above(0.5)) | dict.fromkeys((11, 12), below(0.5))
    unit = replace(
        KF_12,
        seating=seating,
        back_off_torque=KF_12.back_off_position,
        development=replace(KF_12.development, closed=lines),
        lamps=(Lamp("before the seat", "white", 9),),
    )
    assert lit_stopped(unit, Travel.CLOSING) == names


def test_without_a_rotor_at_that_end_the_valve_runs_to_its_stop() -> None:
    rotors = (replace(OPEN, place=Place.TRAVEL), replace(CLOSED, place=Place.TRAVEL))
    unit = replace(KF_07, rotors=rotors)
    for travel, end in ((Travel.OPENING, 100), (Travel.CLOSING, 0)):
        assert lit_stopped(unit, travel) == lit(unit, end)


@given(st.floats(0, 100))
def test_a_lamp_is_lit_while_its_contact_is_closed(percent: float) -> None:
    states = KF_12.expected(percent)
    shown = lit(KF_12, percent)
    for lamp in KF_12.lamps:
        assert (lamp.name in shown) == (states[lamp.contact] is ContactState.CLOSED)


def test_beyond_the_stroke_no_lamp_is_known() -> None:
    with pytest.raises(DevelopmentError, match="outside the stroke"):
        lit(KF_07, 101)
