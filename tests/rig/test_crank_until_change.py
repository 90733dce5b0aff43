"""Cranking slowly up to a change-over, and the cost of it.

That contacts change over where their shaft's gears say is arithmetic on the mechanism of
`assistant.rig.gearing`: common practice, no source.
"""

from __future__ import annotations

import math
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.rig import Actuator, Drive, Gearing, RigError, Sense
from assistant.trade import ContactState, Rotation, Travel
from tests.units import KF_07, KF_12

MADE, BROKEN = ContactState.CLOSED, ContactState.OPEN
CW = Rotation.CLOCKWISE
OPENING, CLOSING = Travel.OPENING, Travel.CLOSING
GEARS = Gearing(revolutions_per_stroke=40, rotation_while_opening=CW, cycle=55)
STROKE = KF_12.stroke_turns.value  # 48 turns
EVERY = range(1, 17)


def bench(position: float = 0, **gearings: Gearing) -> Actuator:
    """KF-12 set as drawn, where nothing else is said."""
    drawn = {rotor.name: GEARS.tripping_at(KF_12.trip(rotor)) for rotor in KF_12.rotors}
    return Actuator(KF_12, drawn | gearings, position)


def test_a_slow_stroke_stops_just_past_every_trip_in_turn() -> None:
    rig = bench()
    met = []
    while (made := rig.crank_until_change(EVERY, OPENING)) is not None:
        met.append((made, rig.position, rig.read(5), rig.read(9), rig.read(13), rig.read(1)))
    # Arithmetic: drawn at 1, 25, 60 and 97.9 % of 48 turns.
    assert [place[0] for place in met] == pytest.approx([0.48, 11.52, 16.8, 18.192])
    assert [place[1] for place in met] == pytest.approx([1, 25, 60, 97.9])
    assert [place[2:] for place in met] == [
        (BROKEN, BROKEN, MADE, BROKEN),
        (BROKEN, MADE, MADE, BROKEN),
        (BROKEN, MADE, BROKEN, BROKEN),
        (BROKEN, MADE, BROKEN, MADE),
    ]
    assert (rig.position, rig.position_turns) == (100, STROKE)


def test_only_the_watched_contacts_end_it() -> None:
    rig = bench()
    assert rig.crank_until_change((15, 13), OPENING) == pytest.approx(28.8)
    assert rig.read(9) is MADE  # The third rotor has tripped on the way.


def test_it_gives_up_where_it_was_told_to() -> None:
    rig = bench()
    assert rig.crank_until_change((9,), OPENING, at_most=10) is None
    assert rig.position_turns == 10
    assert rig.crank_until_change((9,), OPENING, at_most=2) == pytest.approx(2)
    assert rig.read(9) is MADE


@given(st.floats(1, 99), st.floats(0, 1))
def test_turns_that_just_reach_it_suffice(trip: float, share: float) -> None:
    rig = bench(trip * share, third=GEARS.tripping_at(trip))
    just_enough = (trip - trip * share) / 100 * STROKE
    if rig.read(9) is BROKEN:  # It may stand on its change-over from the start.
        assert rig.crank_until_change((9,), OPENING, just_enough) is not None
        assert rig.read(9) is MADE


def test_it_gives_up_at_the_stop() -> None:
    rig = bench(50)
    assert rig.crank_until_change((1,), CLOSING) is None
    assert rig.position == 0
    assert rig.crank_until_change((1,), CLOSING) is None


def test_without_a_contact_to_watch_it_goes_to_the_stop() -> None:
    rig = bench(50)
    assert rig.crank_until_change((), OPENING) is None
    assert rig.position == 100


def test_back_from_just_past_a_change_over_it_changes_back_at_once() -> None:
    rig = bench()
    rig.crank_until_change((9,), OPENING)
    assert rig.crank_until_change((9,), CLOSING) == pytest.approx(0, abs=1e-9)
    assert (rig.read(9), rig.read(11)) == (BROKEN, MADE)
    # The next change-over that way lies a whole cycle on, beyond the stop.
    assert rig.crank_until_change((9,), CLOSING) is None


def test_trips_in_one_place_change_over_together() -> None:
    rig = bench(third=GEARS.tripping_at(100 / 3), fourth=Gearing(7.7, CW, 9).tripping_at(100 / 3))
    assert rig.crank_until_change((9, 13), OPENING) == pytest.approx(16)
    assert (rig.read(9), rig.read(13)) == (MADE, BROKEN)
    assert rig.crank_until_change((9, 13), OPENING) is None


def test_a_trip_exactly_at_a_stop_is_met() -> None:
    rig = bench(50, open=GEARS.tripping_at(100))
    assert rig.crank_until_change((1,), OPENING) == pytest.approx(STROKE / 2)
    assert rig.read(1) is MADE


def test_disengaged_shafts_stay_where_they_are() -> None:
    rig = bench()
    before = rig.reading(EVERY)
    rig.disengage()
    assert rig.crank_until_change(EVERY, OPENING) is None
    assert (rig.position, rig.seen, rig.reading(EVERY)) == (100, {}, before)
    rig.crank_to_stop(CLOSING)
    rig.engage()
    (found,) = rig.measure("third")
    assert found.percent == pytest.approx(25)


def test_a_half_engaged_drive_comes_late_to_the_change_over() -> None:
    rig = bench()
    rig.engage_half()
    # A slipping shaft turns less than the valve, so the trip comes after 25 % of 48 turns.
    late = rig.crank_until_change((9,), OPENING)
    assert rig.drive is Drive.HALF_ENGAGED
    assert late is not None
    assert late > 12
    assert rig.read(9) is MADE


@settings(max_examples=100, deadline=None)
@given(
    st.floats(0, 100),
    st.floats(1, 99),
    st.sampled_from(Sense),
    st.sampled_from(Travel),
    st.sampled_from([Drive.ENGAGED, Drive.HALF_ENGAGED]),
)
def test_it_agrees_with_a_search_in_small_steps(
    position: float, trip: float, sense: Sense, toward: Travel, drive: Drive
) -> None:
    """The same place as by cranking a twentieth of a turn at a time and looking."""
    rig, searched = (bench(position, third=GEARS.tripping_at(trip, sense)) for _ in range(2))
    if drive is Drive.HALF_ENGAGED:
        rig.engage_half()
        searched.engage_half()
    made = rig.crank_until_change((9,), toward)
    before = searched.read(9)
    step = 0.05
    for steps in count(1):
        at_stop = searched.crank(step, toward) < step
        if searched.read(9) is not before:
            assert made is not None
            assert (steps - 1) * step - 1e-6 <= made <= steps * step + 1e-6
            assert rig.read(9) is searched.read(9)
            return
        if at_stop:
            # A change-over within rounding of the stop may be met by one and not by the other.
            room = STROKE * (1 - position / 100 if toward is OPENING else position / 100)
            assert made is None or made == pytest.approx(room, abs=1e-6)
            return


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(Travel), st.floats(0, 60)), max_size=30))
def test_cranking_to_and_fro_does_not_wear_the_setting_off(
    cranks: list[tuple[Travel, float]],
) -> None:
    rig = bench()
    as_set = {rotor.name: rig.measure(rotor.name) for rotor in KF_12.rotors}
    for toward, at_most in cranks:
        rig.crank_until_change(EVERY, toward, at_most)
    for name, (found,) in as_set.items():
        (after,) = rig.measure(name)
        assert after.percent == pytest.approx(found.percent, abs=1e-9)
        assert after.sense is found.sense


@pytest.mark.parametrize("at_most", [-1, math.nan])
def test_turns_that_cannot_be_made_are_refused(at_most: float) -> None:
    with pytest.raises(RigError, match="give 0 or more"):
        bench().crank_until_change((1,), OPENING, at_most)


def test_an_unknown_contact_is_refused_before_anything_moves() -> None:
    rig = Actuator(KF_07, {"open": GEARS, "closed": GEARS}, 50)
    with pytest.raises(RigError, match="KF-07 has no contact 9"):
        rig.crank_until_change((1, 9), OPENING)
    assert rig.position == 50
