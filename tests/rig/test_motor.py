"""The motor and the lamps of the rig.

The zones of the lamps and what stops a stroke are common practice, no source; that a reversed
phase drives past the switch that should stop it is from memory.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.rig import (
    Actuator,
    Gearing,
    Motor,
    RigError,
    Sense,
    StoppedBy,
    Stroke,
    lamps_lit,
)
from assistant.trade import Development, Rotation, Seating, Travel, lit, lit_in_travel, lit_stopped
from tests.units import CLOSED, KF_07, KF_12, OPEN

OPENING, CLOSING = Travel.OPENING, Travel.CLOSING
GEARS = Gearing(revolutions_per_stroke=40, rotation_while_opening=Rotation.CLOCKWISE, cycle=55)
BOTH = ("closed lamp", "open lamp")
SECONDS = 60.0
COAST = 0.3


def bench(position: float = 50, **gearings: Gearing) -> Actuator:
    """KF-12, which seats on position, set as drawn where nothing else is said."""
    drawn = {rotor.name: GEARS.tripping_at(KF_12.trip(rotor)) for rotor in KF_12.rotors}
    return Actuator(KF_12, drawn | gearings, position)


def torque_seated(position: float = 50, **gearings: Gearing) -> Actuator:
    """KF-07, which seats on torque, set as drawn where nothing else is said."""
    drawn = {rotor.name: GEARS.tripping_at(KF_07.trip(rotor)) for rotor in KF_07.rotors}
    return Actuator(KF_07, drawn | gearings, position)


def run(rig: Actuator, toward: Travel, reverse: bool = False) -> Stroke:
    return Motor(rig, SECONDS, COAST, reversed=reverse).stroke(toward)


def sights(stroke: Stroke) -> list[tuple[float, tuple[str, ...]]]:
    """What was seen of the lamps, without the rounding of the sums."""
    return [(round(percent, 6), lit) for percent, lit in stroke.lamps]


# --- Lamps ------------------------------------------------------------------------------------


@pytest.mark.parametrize("percent", [0, 0.5, 2, 50, 97, 98.5, 100])
def test_lamps_of_a_rig_set_as_drawn_are_those_of_the_sheet(percent: float) -> None:
    assert lamps_lit(bench(percent)) == lit(KF_12, percent)


def test_only_the_closed_lamp_is_lit_at_the_seat_and_both_in_travel() -> None:
    rig = bench(0)
    assert lamps_lit(rig) == ("closed lamp",)
    rig.crank(3, OPENING)
    assert lamps_lit(rig) == BOTH
    rig.crank_to_stop(OPENING)
    assert lamps_lit(rig) == ("open lamp",)


# --- A motor that is right --------------------------------------------------------------------


def test_opening_stops_just_past_the_trip_short_of_the_stop() -> None:
    rig = bench()
    stroke = run(rig, OPENING)
    assert stroke.stopped_by is StoppedBy.LIMIT
    # Arithmetic: the open rotor trips at 97.9 %; 48.2 % of 60 s.
    assert rig.position == pytest.approx(97.9 + COAST)
    assert stroke.travel == pytest.approx(48.2)
    assert stroke.seconds == pytest.approx(28.92)
    assert sights(stroke) == [(50, BOTH), (97.9, ("open lamp",))]
    assert lamps_lit(rig) == lit_stopped(KF_12, OPENING)


def test_closing_on_position_stops_just_past_the_trip() -> None:
    rig = bench()
    stroke = run(rig, CLOSING)
    assert stroke.stopped_by is StoppedBy.LIMIT
    assert rig.position == pytest.approx(1.0 - COAST)
    assert sights(stroke) == [(50, BOTH), (1, ("closed lamp",))]
    assert lamps_lit(rig) == lit_stopped(KF_12, CLOSING)


def test_closing_on_torque_goes_on_to_the_seat_after_the_lamp_has_gone_out() -> None:
    rig = torque_seated()
    stroke = run(rig, CLOSING)
    assert (stroke.stopped_by, rig.position, stroke.travel) == (StoppedBy.TORQUE, 0, 50)
    assert stroke.seconds == pytest.approx(30)
    assert sights(stroke) == [(50, BOTH), (2.4, ("closed lamp",))]
    assert lamps_lit(rig) == lit_stopped(KF_07, CLOSING)


def test_lamps_join_at_once_on_leaving_an_end() -> None:
    rig = torque_seated(0)
    stroke = run(rig, OPENING)
    assert sights(stroke) == [(0, ("closed lamp",)), (2.4, BOTH), (98.4, ("open lamp",))]


@pytest.mark.parametrize("toward", Travel)
def test_a_full_stroke_takes_close_to_its_time(toward: Travel) -> None:
    rig = bench(0 if toward is OPENING else 100)
    stroke = run(rig, toward)
    # The limits and the coast leave out a little over two percent of travel.
    assert 0.95 * SECONDS < stroke.seconds < SECONDS


def test_a_second_command_the_same_way_moves_nothing() -> None:
    rig = bench()
    run(rig, OPENING)
    before = rig.position
    assert run(rig, OPENING) == Stroke(0, StoppedBy.LIMIT, 0, ((before, ("open lamp",)),))
    assert rig.position == before


def test_a_lamp_that_changes_while_coasting_is_seen_and_does_not_lengthen_it() -> None:
    rig = bench(closed=GEARS.tripping_at(98))
    stroke = run(rig, OPENING)
    assert rig.position == pytest.approx(97.9 + COAST)
    assert sights(stroke) == [(50, ("closed lamp",)), (97.9, ()), (98, ("open lamp",))]


def test_coasting_ends_at_the_stop() -> None:
    rig = bench(open=GEARS.tripping_at(99.9))
    stroke = Motor(rig, SECONDS, coast=5).stroke(OPENING)
    assert (stroke.stopped_by, rig.position) == (StoppedBy.LIMIT, 100)


def test_jog_shows_the_direction_in_which_the_valve_moves() -> None:
    rig = bench()
    motor = Motor(rig, SECONDS)
    assert motor.jog(OPENING) is OPENING
    assert rig.position == pytest.approx(51)
    assert motor.jog(CLOSING) is CLOSING
    assert rig.position == pytest.approx(50)


# --- What is wrong shows ----------------------------------------------------------------------


@pytest.mark.parametrize("toward", Travel)
def test_reversed_phases_jog_the_other_way_and_run_past_the_limit(toward: Travel) -> None:
    rig = bench()
    assert Motor(rig, SECONDS, reversed=True).jog(toward) is toward.opposite
    assert (rig.position > 50) is (toward is CLOSING)
    stroke = run(rig, toward, reverse=True)
    assert stroke.stopped_by is StoppedBy.STOP
    assert rig.position == (0 if toward is OPENING else 100)


def test_torque_does_not_stop_a_reversed_motor_at_the_open_stop() -> None:
    rig = torque_seated()
    stroke = run(rig, CLOSING, reverse=True)
    assert (stroke.stopped_by, rig.position) == (StoppedBy.STOP, 100)


@pytest.mark.parametrize("toward", Travel)
def test_a_rotor_that_does_not_trip_lets_the_motor_run_to_the_hard_stop(toward: Travel) -> None:
    out = GEARS.standing_past(toward.opposite)
    rig = bench(open=out) if toward is OPENING else bench(closed=out)
    stroke = run(rig, toward)
    assert (stroke.stopped_by, stroke.travel) == (StoppedBy.STOP, 50)
    assert rig.position == (100 if toward is OPENING else 0)
    # Its lamp never changes.
    assert lamps_lit(rig) == BOTH == lit_in_travel(KF_12)


def test_an_inverted_rotor_does_not_let_the_motor_start_before_its_trip() -> None:
    rig = bench(open=GEARS.tripping_at(97.9, Sense.INVERTED))
    stroke = run(rig, OPENING)
    assert (stroke.stopped_by, stroke.travel) == (StoppedBy.LIMIT, 0)
    assert lamps_lit(rig) != lit_in_travel(KF_12)


def test_an_inverted_rotor_stops_nothing_past_its_trip() -> None:
    rig = bench(98, open=GEARS.tripping_at(97.9, Sense.INVERTED))
    stroke = run(rig, OPENING)
    assert (stroke.stopped_by, rig.position) == (StoppedBy.STOP, 100)


@pytest.mark.parametrize("toward", Travel)
def test_without_the_drive_engaged_nothing_stops_the_motor(toward: Travel) -> None:
    rig = bench()
    rig.disengage()
    before = lamps_lit(rig)
    stroke = run(rig, toward)
    assert (stroke.stopped_by, stroke.travel) == (StoppedBy.STOP, 50)
    assert stroke.lamps == ((50, before),)


def test_a_slipping_drive_does_not_stop_the_motor_in_time() -> None:
    rig = bench(0)
    rig.engage_half()
    stroke = run(rig, OPENING)
    assert (stroke.stopped_by, rig.position) == (StoppedBy.STOP, 100)


def test_torque_seats_the_valve_without_any_rotor() -> None:
    rig = torque_seated(closed=GEARS.standing_past(OPENING))
    stroke = run(rig, CLOSING)
    assert (stroke.stopped_by, rig.position) == (StoppedBy.TORQUE, 0)
    assert stroke.lamps == ((50, BOTH),)


def test_a_sheet_without_a_rotor_at_the_end_has_no_limit_there() -> None:
    two_open = (OPEN, replace(CLOSED, place=OPEN.place, set_while=OPENING))
    lines = KF_12.development.closed
    as_open = Development({number: lines[(number - 1) % 4 + 1] for number in range(1, 9)})
    unit = replace(KF_12, rotors=two_open, development=as_open, lamps=(), bypass=None)
    rig = Actuator(unit, {rotor.name: GEARS.tripping_at(97.9) for rotor in two_open}, 50)
    assert run(rig, CLOSING).stopped_by is StoppedBy.STOP
    assert run(rig, OPENING).stopped_by is StoppedBy.LIMIT


@st.composite
def rigs(draw: st.DrawFn) -> Actuator:
    """Either way of seating, its end rotors set anyhow."""
    make = torque_seated if draw(st.sampled_from(Seating)) is Seating.TORQUE else bench
    ends = {name: replace(GEARS, offset=draw(st.floats(-100, 100))) for name in ("open", "closed")}
    return make(draw(st.floats(0, 100)), **ends)


@settings(max_examples=100, deadline=None)
@given(rigs(), st.sampled_from(Travel), st.booleans())
def test_a_stroke_keeps_within_the_stops_and_its_sights_in_order(
    rig: Actuator, toward: Travel, reverse: bool
) -> None:
    before = rig.position
    stroke = run(rig, toward, reverse)
    assert 0 <= rig.position <= 100
    assert stroke.travel == pytest.approx(abs(rig.position - before))
    assert stroke.seconds == pytest.approx(stroke.travel / 100 * SECONDS)
    assert stroke.lamps[-1][1] == lamps_lit(rig)
    places = [percent for percent, _ in stroke.lamps]
    forward = (toward is OPENING) is not reverse
    assert places == sorted(places, reverse=not forward)
    if stroke.stopped_by is StoppedBy.STOP:
        assert rig.position == (100 if forward else 0)


@pytest.mark.parametrize("seconds", [0, -1, math.inf, math.nan])
def test_an_impossible_stroke_time_is_refused(seconds: float) -> None:
    with pytest.raises(RigError, match="give more than 0"):
        Motor(bench(), seconds)


@pytest.mark.parametrize("coast", [-1, math.inf, math.nan])
def test_an_impossible_coast_is_refused(coast: float) -> None:
    with pytest.raises(RigError, match="give 0 or more"):
        Motor(bench(), SECONDS, coast)
