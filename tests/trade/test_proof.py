"""Bringing a rotor to its place by counted turns, and proving its trip anew from the stop."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.trade import (
    PROOF_MARGIN,
    Approach,
    Place,
    Rotor,
    Sourced,
    Travel,
    TravelError,
    Unit,
    approach,
    quarter_turns,
    trip_error,
)
from tests.units import CLOSED, FOURTH, KF_07, KF_12, OPEN, THIRD, above, below, turns

OPENING, CLOSING = Travel.OPENING, Travel.CLOSING

ROTORS = [(KF_07, OPEN), (KF_07, CLOSED), *((KF_12, rotor) for rotor in KF_12.rotors)]


@pytest.mark.parametrize(
    ("count", "quarter"),
    # 28.8 is 60 % of 48 turns, told as twenty eight and three quarters: the worked example. The
    # others are arithmetic, a tie going up.
    [(28.8, 28.75), (19.2, 19.25), (0, 0), (0.125, 0.25), (0.375, 0.5), (12, 12), (0.1, 0)],
)
def test_counts_to_the_quarter_turn(count: float, quarter: float) -> None:
    assert quarter_turns(count) == quarter


@pytest.mark.parametrize("count", [float("nan"), float("inf")])
def test_what_is_no_count_has_no_quarter(count: float) -> None:
    with pytest.raises(TravelError, match="no amount of travel"):
        quarter_turns(count)


@settings(deadline=None)
@given(st.floats(0, 1e4))
def test_a_quarter_turn_is_never_off_by_more_than_an_eighth(count: float) -> None:
    assert abs(quarter_turns(count) - count) <= 0.125 + 1e-9


@pytest.mark.parametrize(
    ("unit", "rotor", "way"),
    [
        # 1, 1.5 and 0.5 turns back from an end rotor's own stop: common practice, no source.
        (KF_07, OPEN, Approach(OPENING, CLOSING, 1, 1, OPENING, 2, 1)),
        (KF_07, CLOSED, Approach(CLOSING, OPENING, 1.5, 1.5, CLOSING, 2.5, 1)),
        (KF_12, CLOSED, Approach(CLOSING, OPENING, 0.5, 0.5, CLOSING, 1.5, 1)),
        # 25 % of 48 turns is 12, from the closed stop; drawn while opening, so away from it.
        (KF_12, THIRD, Approach(CLOSING, OPENING, 12, 12, OPENING, 11, 1)),
        # 60 % lies nearer the open stop: 40 % of 48 turns is 19.2; drawn while closing.
        (KF_12, FOURTH, Approach(OPENING, CLOSING, 19.2, 19.25, CLOSING, 18.25, 1)),
    ],
)
def test_ways_to_the_rotors_of_the_scenario(unit: Unit, rotor: Rotor, way: Approach) -> None:
    found = approach(unit, rotor)
    assert found.turns == pytest.approx(way.turns)
    assert replace(found, turns=way.turns) == way


def in_travel(percent: float, set_while: Travel = OPENING) -> tuple[Unit, Rotor]:
    """The unit with its third rotor drawn there."""
    rotor = replace(THIRD, set_while=set_while)
    lines = dict(KF_12.development.closed)
    lines |= dict.fromkeys((9, 10), above(percent)) | dict.fromkeys((11, 12), below(percent))
    development = replace(KF_12.development, closed=lines)
    return replace(KF_12, rotors=(OPEN, CLOSED, rotor, FOURTH), development=development), rotor


def test_at_half_travel_turns_are_counted_from_the_closed_stop() -> None:
    # This project's rule for two stops equally near.
    assert approach(*in_travel(50)).stop is CLOSING
    assert approach(*in_travel(51)).stop is OPENING


def test_a_proof_begins_at_the_stop_where_there_is_less_than_a_turn_before_the_trip() -> None:
    # Half a turn is 100/96 % of 48 turns (arithmetic).
    way = approach(*in_travel(100 / 96))
    assert (way.counted, way.start, way.expected) == (0.5, 0, 0.5)
    way = approach(*in_travel(100 / 96, CLOSING))
    assert (way.counted, way.start, way.expected) == (0.5, 1.5, 1)


@pytest.mark.parametrize(("unit", "rotor"), ROTORS)
def test_the_proof_begins_where_the_contacts_stand_as_before_the_trip(
    unit: Unit, rotor: Rotor
) -> None:
    way = approach(unit, rotor)
    from_stop = way.start / unit.stroke_turns.value * 100
    percent = from_stop if way.stop is CLOSING else 100 - from_stop
    states = unit.expected(percent)
    assert {contact: states[contact] for contact in rotor.contacts} == unit.before(rotor)
    assert unit.before(rotor) != unit.past(rotor)


@pytest.mark.parametrize(("unit", "rotor"), ROTORS)
def test_a_rotor_at_its_counted_place_is_within_the_tolerance(unit: Unit, rotor: Rotor) -> None:
    error = trip_error(unit, rotor, approach(unit, rotor).expected)
    assert error.within
    # The place is rounded to the quarter turn, and the drawing to a tenth of a percent.
    assert abs(error.turns) <= 0.125


@pytest.mark.parametrize(("unit", "rotor"), ROTORS)
@pytest.mark.parametrize("missed", [0.5, 1, -0.5, -1])
def test_a_miscounted_back_off_shows(unit: Unit, rotor: Rotor, missed: float) -> None:
    # Half a turn is 0.8 % of 62 turns and 1.0 % of 48, more than the tolerance of 0.5 %
    # (arithmetic). The trip lies so much further from the stop.
    way = approach(unit, rotor)
    right = trip_error(unit, rotor, way.expected)
    marked = way.expected + (-missed if way.toward is way.stop else missed)
    error = trip_error(unit, rotor, marked)
    further_open = missed if way.stop is CLOSING else -missed
    assert error.turns - right.turns == pytest.approx(further_open)
    assert not error.within


def test_errors_are_positive_where_the_trip_lies_further_open() -> None:
    # Half a turn of 62 is 0.806 %; the open rotor of the scenario is drawn 0.013 % off its
    # reference, 100 x 61/62 (arithmetic).
    late = trip_error(KF_07, OPEN, 1.5)
    assert late.percent == pytest.approx(100 * 61.5 / 62 - 98.4)
    assert late.turns == pytest.approx(61.5 - 0.984 * 62)
    early = trip_error(KF_07, CLOSED, 0.5)
    assert early.percent == pytest.approx(100 * 2 / 62 - 2.4)


def test_exactly_the_tolerance_is_within() -> None:
    # A quarter turn of 50 turns is 0.5 % (arithmetic).
    unit = replace(
        KF_12,
        stroke_turns=turns(50),
        development=replace(
            KF_12.development,
            closed={
                **KF_12.development.closed,
                **dict.fromkeys((13, 14), below(60)),
                **dict.fromkeys((15, 16), above(60)),
            },
        ),
    )
    assert trip_error(unit, FOURTH, 1.25).within
    assert not trip_error(unit, FOURTH, 1.26).within


@settings(deadline=None)
@given(
    percent=st.floats(2, 98),
    stroke=st.floats(30, 300),
    set_while=st.sampled_from(Travel),
    place=st.floats(-1, 1),
)
def test_the_trip_error_is_the_distance_from_the_drawing(
    percent: float, stroke: float, set_while: Travel, place: float
) -> None:
    wide = Sourced(100, "%", "wide")
    unit, rotor = in_travel(percent, set_while)
    # With every rotor in travel, for at an end no tolerance may be so wide.
    rotors = tuple(replace(one, place=Place.TRAVEL) for one in unit.rotors)
    unit = replace(unit, rotors=rotors, stroke_turns=turns(stroke), tolerance=wide)
    way = approach(unit, rotor)
    # Reckoned from the closed seat alone, without the stop and the start of the proof.
    begin = way.start if way.stop is CLOSING else stroke - way.start
    trip = percent / 100 * stroke + place
    marked = trip - begin if set_while is OPENING else begin - trip
    error = trip_error(unit, rotor, marked)
    assert error.turns == pytest.approx(place, abs=1e-6)
    assert error.percent == pytest.approx(place / stroke * 100, abs=1e-6)


def test_a_margin_of_one_turn() -> None:
    assert PROOF_MARGIN == 1  # Common practice, no source.


def test_no_rotor_is_counted_from_beyond_the_stroke() -> None:
    # A stroke of 2 turns with 1.5 turns of back-off: a turn before the trip is beyond the stop.
    # Drawn there: a turn of 2 is 50 %, one and a half are 75 % (arithmetic).
    drawn = {
        **dict.fromkeys((1, 2), above(50)),
        **dict.fromkeys((3, 4), below(50)),
        **dict.fromkeys((5, 6), below(75)),
        **dict.fromkeys((7, 8), above(75)),
    }
    short = replace(
        KF_07, stroke_turns=turns(2), development=replace(KF_07.development, closed=drawn)
    )
    assert short.rotor("closed").place is Place.CLOSED_END
    way = approach(short, CLOSED)
    assert (way.start, way.expected) == (2, 0.5)
