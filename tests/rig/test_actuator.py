from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.rig import Actuator, Drive, Gearing, RigError, Sense
from assistant.trade import (
    Advice,
    ContactState,
    Development,
    Interval,
    Place,
    Rotation,
    Rotor,
    Seating,
    Travel,
    Unit,
    Verdict,
    advise,
    reference,
)
from assistant.trade.sheet import ROTOR_NAMES
from tests.units import KF_07, KF_12, above, below, turns

MADE, BROKEN = ContactState.CLOSED, ContactState.OPEN
CW, CCW = Rotation.CLOCKWISE, Rotation.COUNTERCLOCKWISE
OPENING, CLOSING = Travel.OPENING, Travel.CLOSING
ENOUGH = 2000  # Revolutions: more than the longest cycle below.
CLOSE_ENOUGH = 1e-6  # Percent of travel: far below what a handwheel resolves.
GEARS = Gearing(revolutions_per_stroke=40, rotation_while_opening=CW, cycle=55)


def bench(**gearings: Gearing) -> Actuator:
    """KF-07 at the closed stop, its rotors set as drawn where nothing else is said."""
    drawn = {"open": GEARS.tripping_at(98.4), "closed": GEARS.tripping_at(2.4)}
    return Actuator(KF_07, drawn | gearings)


# --- The job, as the technician does it -------------------------------------------------------


def crank_to(rig: Actuator, percent: float) -> Travel:
    """Crank to a place in travel; answers the direction."""
    toward = OPENING if percent > rig.position else CLOSING
    rig.crank(abs(percent - rig.position) / 100 * rig.unit.stroke_turns.value, toward)
    return toward


def go_and_watch(rig: Actuator, rotor: Rotor) -> dict[Travel, Rotation]:
    """Crank to the rotor's stop, then to where it is set; answers how its shaft turned."""
    to_stop = CLOSING if rotor.place is Place.CLOSED_END else OPENING
    seen = {}
    if rig.crank_to_stop(to_stop):
        seen[to_stop] = rig.seen[rotor.name]
    away = crank_to(rig, reference(rig.unit, rotor))
    return seen | {away: rig.seen[rotor.name]}


def turn_as_told(rig: Actuator, rotor: Rotor, verdict: Verdict, turn: Rotation) -> None:
    """Turn the shaft until it just changes; where it had changed over, then back again."""
    rig.disengage()
    assert rig.turn_until_change(rotor.name, turn, ENOUGH) is not None
    if verdict is Verdict.ALREADY:
        assert rig.turn_until_change(rotor.name, turn.opposite, ENOUGH) is not None
    rig.engage()
    assert not rig.shaft_moves(rotor.name)


def get_advice(rig: Actuator, rotor: Rotor, seen: Mapping[Travel, Rotation]) -> Advice:
    return advise(rig.unit, rotor, seen, rig.reading(rotor.contacts))


def assert_found(rig: Actuator, rotor: str, percent: float, sense: Sense) -> None:
    """Check that the rotor changes over once in the stroke, there and in that sense."""
    (found,) = rig.measure(rotor)
    assert found.percent == pytest.approx(percent, abs=CLOSE_ENOUGH)
    assert found.sense is sense


def assert_trips(rig: Actuator, rotor: Rotor, sense: Sense) -> None:
    assert_found(rig, rotor.name, reference(rig.unit, rotor), sense)


# --- Random units, gears and ways of watching -------------------------------------------------


@st.composite
def units(draw: st.DrawFn) -> Unit:
    """Any unit that a sheet can describe: contacts in any order, makes and breaks mixed.

    A person counts quarter turns (common practice, no source), so a sheet draws trips there.
    """
    quarters = draw(st.integers(20, 2000))  # of a full stroke: 5 to 500 turns
    stroke, places = quarters / 4, st.integers(ceil(quarters / 100), quarters - quarters // 20)
    back = st.integers(ceil(quarters / 100), quarters * 2 // 5)
    seating = draw(st.sampled_from(Seating))
    opened, torque, position = draw(back), draw(back), draw(back)
    ends = {
        Place.OPEN_END: quarters - opened,
        Place.CLOSED_END: torque if seating is Seating.TORQUE else position,
    }
    numbers = draw(st.permutations(range(1, 17)))
    rotors = []
    lines: dict[int, tuple[Interval, ...]] = {}
    for index, name in enumerate(ROTOR_NAMES[: draw(st.sampled_from((2, 4)))]):
        contacts = tuple(numbers[4 * index : 4 * index + draw(st.integers(1, 4))])
        place = draw(st.sampled_from(Place))
        trip = (ends[place] if place in ends else draw(places)) / quarters * 100
        for contact in contacts:
            edge = trip + draw(st.floats(-0.2, 0.2))
            lines[contact] = draw(st.sampled_from((above, below)))(edge)
        set_while = place.set_while or draw(st.sampled_from(Travel))
        rotors.append(Rotor(name, contacts, place, set_while))
    return replace(
        KF_07,
        seating=seating,
        rotors=tuple(rotors),
        development=Development(lines),
        lamps=(),
        stroke_turns=turns(stroke),
        back_off_open=turns(opened / 4),
        back_off_torque=turns(torque / 4),
        back_off_position=turns(position / 4),
    )


@st.composite
def gearings(draw: st.DrawFn) -> Gearing:
    """Any gears: a cycle just longer than the stroke or much longer, set anyhow."""
    stroke = draw(st.floats(1, 200))
    cycle = stroke * draw(st.floats(1.01, 5))
    return Gearing(stroke, draw(st.sampled_from(Rotation)), cycle, cycle * draw(st.floats(-2, 2)))


@st.composite
def rigs(draw: st.DrawFn) -> Actuator:
    unit = draw(units())
    gears = {rotor.name: draw(gearings()) for rotor in unit.rotors}
    return Actuator(unit, gears, draw(st.floats(0, 100)))


@dataclass(frozen=True, slots=True)
class Watching:
    """Whether the technician remembers one movement of the shaft or both."""

    of: tuple[Travel, ...]

    def keep(self, seen: Mapping[Travel, Rotation]) -> dict[Travel, Rotation]:
        kept = {travel: rotation for travel, rotation in seen.items() if travel in self.of}
        return kept or dict(seen)


watchings = st.sampled_from([(OPENING,), (CLOSING,), (OPENING, CLOSING)]).map(Watching)


@settings(max_examples=150, deadline=None)
@given(rigs(), watchings)
def test_following_the_advice_sets_every_rotor_as_drawn(rig: Actuator, watching: Watching) -> None:
    for rotor in rig.unit.rotors:
        seen = watching.keep(go_and_watch(rig, rotor))
        advice = get_advice(rig, rotor, seen)
        assert advice.turn is not None
        turn_as_told(rig, rotor, advice.verdict, advice.turn)
        assert rig.reading(rotor.contacts) == advice.leave
    # Measured only now: setting one rotor must leave the others as they were set.
    for rotor in rig.unit.rotors:
        assert_trips(rig, rotor, Sense.DRAWN)


@settings(max_examples=150, deadline=None)
@given(rigs(), watchings)
def test_turning_the_other_way_ends_inverted(rig: Actuator, watching: Watching) -> None:
    for rotor in rig.unit.rotors:
        advice = get_advice(rig, rotor, watching.keep(go_and_watch(rig, rotor)))
        assert advice.turn is not None
        turn_as_told(rig, rotor, advice.verdict, advice.turn.opposite)
        # The contacts alone do not tell: they are left just as they should be.
        assert rig.reading(rotor.contacts) == advice.leave
    for rotor in rig.unit.rotors:
        assert_trips(rig, rotor, Sense.INVERTED)


@settings(max_examples=50, deadline=None)
@given(rigs(), st.data())
def test_one_misread_contact_never_gives_a_direction(rig: Actuator, data: st.DataObject) -> None:
    rotor = data.draw(st.sampled_from(rig.unit.rotors))
    assume(len(rotor.contacts) > 1)
    seen = go_and_watch(rig, rotor)
    reading = rig.reading(rotor.contacts)
    misread = data.draw(st.sampled_from(rotor.contacts))
    reading[misread] = reading[misread].other
    advice = advise(rig.unit, rotor, seen, reading)
    assert (advice.verdict, advice.turn) == (Verdict.CONTRADICTION, None)


@settings(max_examples=100, deadline=None)
@given(units(), gearings(), st.floats(1, 99), st.sampled_from(Sense))
def test_measuring_finds_how_a_rotor_was_set(
    unit: Unit, gears: Gearing, percent: float, sense: Sense
) -> None:
    rig = Actuator(
        unit, dict.fromkeys((r.name for r in unit.rotors), gears.tripping_at(percent, sense))
    )
    for rotor in unit.rotors:
        assert_found(rig, rotor.name, percent, sense)


@settings(max_examples=50, deadline=None)
@given(units(), gearings(), st.sampled_from(Travel))
def test_rotor_that_does_not_trip_in_the_stroke(unit: Unit, gears: Gearing, side: Travel) -> None:
    rig = Actuator(unit, dict.fromkeys((r.name for r in unit.rotors), gears.standing_past(side)))
    for rotor in unit.rotors:
        assert rig.measure(rotor.name) == ()
        assert rig.reading(rotor.contacts) == unit.past(rotor, side)


# --- The scenario -----------------------------------------------------------------------------


@pytest.mark.parametrize("unit", [KF_07, KF_12], ids=lambda unit: unit.tag)
@pytest.mark.parametrize("rotation", Rotation)
def test_scenario_with_one_rotor_past_and_one_before_its_trip(
    unit: Unit, rotation: Rotation
) -> None:
    gears = replace(GEARS, rotation_while_opening=rotation)
    set_off = {rotor.name: gears.standing_past(rotor.set_while) for rotor in unit.rotors}
    set_off["closed"] = gears.tripping_at(1.0 if unit is KF_07 else 0.5)
    rig = Actuator(unit, set_off, position=50)
    verdicts = []
    for rotor in unit.rotors:
        advice = get_advice(rig, rotor, go_and_watch(rig, rotor))
        assert advice.turn is not None
        verdicts.append(advice.verdict)
        turn_as_told(rig, rotor, advice.verdict, advice.turn)
        assert_trips(rig, rotor, Sense.DRAWN)
    assert verdicts[:2] == [Verdict.ALREADY, Verdict.NOT_YET]


@pytest.mark.parametrize("sense", Sense)
@pytest.mark.parametrize("rotation", Rotation)
@pytest.mark.parametrize("rotor", KF_12.rotors, ids=lambda rotor: rotor.name)
def test_rotor_standing_exactly_on_a_change_over(
    rotor: Rotor, rotation: Rotation, sense: Sense
) -> None:
    gears = replace(GEARS, rotation_while_opening=rotation)
    there = gears.tripping_at(reference(KF_12, rotor), sense)
    rig = Actuator(KF_12, dict.fromkeys((r.name for r in KF_12.rotors), there), position=50)
    advice = get_advice(rig, rotor, go_and_watch(rig, rotor))
    assert advice.turn is not None
    turn_as_told(rig, rotor, advice.verdict, advice.turn)
    assert_trips(rig, rotor, Sense.DRAWN)


# --- The mechanism, fact by fact (common practice, no source) ---------------------------------


def test_shaft_turns_one_way_for_opening_and_the_other_for_closing() -> None:
    rig = bench(closed=replace(GEARS, rotation_while_opening=CCW))
    rig.crank(10, OPENING)
    assert rig.seen == {"open": CW, "closed": CCW}
    rig.crank(5, CLOSING)
    assert rig.seen == {"open": CCW, "closed": CW}


def test_valve_stops_at_its_stops() -> None:
    rig = bench()
    assert rig.crank(10, OPENING) == 10
    assert rig.position_turns == 10
    assert rig.crank(100, OPENING) == pytest.approx(52)
    assert (rig.position, rig.position_turns) == (100, 62)
    assert rig.crank(1, OPENING) == 0
    assert rig.seen == {}
    assert rig.crank_to_stop(CLOSING) == 62
    assert rig.position == 0


def test_contacts_change_over_where_they_are_set() -> None:
    rig = bench()
    assert rig.reading((1, 3, 5, 7)) == {1: BROKEN, 3: MADE, 5: MADE, 7: BROKEN}
    crank_to(rig, 50)
    assert rig.reading((1, 3, 5, 7)) == {1: BROKEN, 3: MADE, 5: BROKEN, 7: MADE}
    crank_to(rig, 99)
    assert rig.reading((1, 3, 5, 7)) == {1: MADE, 3: BROKEN, 5: BROKEN, 7: MADE}


def test_engaged_shaft_cannot_be_turned() -> None:
    rig = bench()
    assert not rig.shaft_moves("open")
    assert rig.turn_shaft("open", CW, 200) == 0
    assert rig.turn_until_change("open", CW, 200) is None
    assert rig.measure("open") == bench().measure("open")


@pytest.mark.parametrize(
    ("closed", "as_drawn"),
    [
        (GEARS.tripping_at(2.4), True),
        (GEARS.tripping_at(2.4 + KF_07.tolerance.value), True),
        (GEARS.tripping_at(2.4 + KF_07.tolerance.value * 1.01), False),
        (GEARS.standing_past(OPENING), False),
        (replace(GEARS, offset=GEARS.tripping_at(2.4).offset + GEARS.cycle), False),
    ],
    ids=["there", "at the tolerance", "beyond it", "nowhere in the stroke", "inverted"],
)
def test_as_drawn_is_once_there_and_not_inverted(closed: Gearing, as_drawn: bool) -> None:
    rig = bench(closed=closed)
    assert rig.is_as_drawn("closed") is as_drawn
    assert rig.is_as_drawn("open")


def test_consecutive_change_overs_alternate_one_cycle_apart() -> None:
    rig = bench()
    rig.disengage()
    # Arithmetic: from the closed stop the open rotor trips after 98.4 % of 40 revolutions.
    assert rig.turn_until_change("open", CW, 55) == pytest.approx(39.36)
    states = [rig.read(1)]
    for _ in range(3):
        assert rig.turn_until_change("open", CW, 56) == pytest.approx(55)
        states.append(rig.read(1))
    assert states == [MADE, BROKEN, MADE, BROKEN]
    assert rig.turn_until_change("open", CCW, 0) == 0
    assert rig.read(1) is MADE


def test_reaching_a_change_over_makes_it_from_either_side() -> None:
    # Arithmetic in whole revolutions: the change-over lies at exactly 16 of the stroke's 32.
    rig = bench(open=Gearing(32, CW, cycle=64, offset=16))
    rig.disengage()
    rig.turn_shaft("open", CW, 16)
    assert rig.read(1) is MADE
    rig.turn_shaft("open", CW, 8)
    rig.turn_shaft("open", CCW, 8)
    assert rig.read(1) is BROKEN


def test_giving_up_leaves_the_shaft_where_it_was_turned_to() -> None:
    rig = bench()
    rig.disengage()
    assert rig.turn_until_change("open", CW, 30) is None
    assert rig.turn_until_change("open", CW, 30) == pytest.approx(9.36)


def test_setting_drifts_when_cranked_disengaged() -> None:
    rig = bench()
    rig.disengage()
    rig.crank(31, OPENING)
    assert rig.seen == {}
    rig.engage()
    # Arithmetic: every change-over comes 50 % of travel later, so that of the closed rotor at
    # 52.4 %; the open rotor's leaves the stroke, and its inverted one, a cycle or 137.5 % of
    # travel before, enters it.
    assert_found(rig, "closed", 52.4, Sense.DRAWN)
    assert_found(rig, "open", 98.4 + 50 - 137.5, Sense.INVERTED)


def test_half_engaged_drive_still_turns_the_shafts_but_slips() -> None:
    rig = bench()
    as_set = rig.measure("closed")
    rig.engage_half()
    assert rig.drive is Drive.HALF_ENGAGED
    assert rig.shaft_moves("closed")
    assert rig.measure("closed") == as_set
    rig.crank_to_stop(OPENING)
    assert rig.seen == {"open": CW, "closed": CW}
    rig.engage()
    assert rig.measure("closed") != as_set


def test_trying_the_shafts_and_measuring_change_nothing() -> None:
    rig = bench()
    crank_to(rig, 40)
    rig.disengage()
    before = (rig.position, rig.drive, rig.seen, rig.reading(range(1, 9)))
    assert rig.shaft_moves("open")
    assert rig.measure("open") == rig.measure("open")
    assert (rig.position, rig.drive, rig.seen, rig.reading(range(1, 9))) == before


def test_measuring_tells_place_and_sense() -> None:
    rig = bench(open=GEARS.tripping_at(30, Sense.INVERTED))
    assert_found(rig, "open", 30, Sense.INVERTED)
    assert_found(rig, "closed", 2.4, Sense.DRAWN)


@pytest.mark.parametrize(
    ("stroke", "cycle", "offset"),
    [(40, 40, 0), (40, 30, 0), (0, 30, 0), (-1, 30, 0), (40, math.inf, 0), (40, 55, math.nan)],
)
def test_impossible_gears_are_refused(stroke: float, cycle: float, offset: float) -> None:
    with pytest.raises(RigError, match="give a"):
        Gearing(stroke, CW, cycle, offset)


def test_rig_that_does_not_fit_the_unit_is_refused() -> None:
    with pytest.raises(RigError, match="KF-07 has rotors open, closed"):
        Actuator(KF_07, {"open": GEARS})
    with pytest.raises(RigError, match="cannot stand at 101 %"):
        Actuator(KF_07, {"open": GEARS, "closed": GEARS}, position=101)


@pytest.mark.parametrize("amount", [-1, math.nan, math.inf])
def test_turns_that_cannot_be_made_are_refused(amount: float) -> None:
    rig = bench()
    with pytest.raises(RigError, match="give 0 or more"):
        rig.crank(amount, OPENING)
    with pytest.raises(RigError, match="give 0 or more"):
        rig.turn_shaft("open", CW, amount)
    with pytest.raises(RigError, match="give 0 or more"):
        rig.turn_until_change("open", CW, amount)


def test_unknown_contact_is_refused() -> None:
    with pytest.raises(RigError, match="KF-07 has no contact 9"):
        bench().read(9)
