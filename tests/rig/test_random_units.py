"""The random units of the campaign: every one is a sheet that is right, with a rig that fits it.

What a unit may be like is common practice, no source; that a sheet is right is for
`assistant.trade.sheet_faults` to say.
"""

from __future__ import annotations

import random

import pytest

from assistant.rig import Actuator, Gearing, Sense, lamps_lit, unit_from
from assistant.trade import (
    Place,
    Rotation,
    Rotor,
    Seating,
    Travel,
    Unit,
    back_off,
    quarter_turns,
    reference,
    to_percent,
    to_turns,
)

SEEDS = range(400)
DRAWN = {seed: unit_from(random.Random(seed)) for seed in SEEDS}
UNITS = [unit for unit, _ in DRAWN.values()]
ROTORS = [(unit, rotor) for unit in UNITS for rotor in unit.rotors]
GEARINGS = [
    (unit, rotor, gearings[rotor.name])
    for unit, gearings in DRAWN.values()
    for rotor in unit.rotors
]


def places(gears: Gearing) -> list[tuple[float, Sense]]:
    """Where in the stroke these gears change a rotor over, straight from their definition."""
    per_percent = gears.revolutions_per_stroke / 100
    found = []
    for cycle in range(-20, 21):
        percent = (gears.offset + cycle * gears.cycle) / per_percent
        if 0 <= percent <= 100:
            found.append((percent, Sense.INVERTED if cycle % 2 else Sense.DRAWN))
    return found


def test_the_same_seed_draws_the_same_unit() -> None:
    for seed in range(20):
        unit, gearings = unit_from(random.Random(seed))
        assert (unit, gearings) == DRAWN[seed]
        assert unit.development.closed == DRAWN[seed][0].development.closed


@pytest.mark.parametrize("position", [0.0, 33.0, 100.0])
def test_the_rig_finds_each_trip_where_the_gears_have_it(position: float) -> None:
    for unit, gearings in DRAWN.values():
        rig = Actuator(unit, gearings, position)
        for rotor in unit.rotors:
            found = rig.measure(rotor.name)
            given = places(gearings[rotor.name])
            assert [at.percent for at in found] == pytest.approx([at for at, _ in given], abs=1e-6)
            assert [at.sense for at in found] == [sense for _, sense in given]


def test_no_rotor_is_found_inverted() -> None:
    senses = {sense for _, _, gears in GEARINGS for _, sense in places(gears)}
    assert senses == {Sense.DRAWN}


def test_rotors_are_found_right_off_and_not_tripping_at_all() -> None:
    kinds = set()
    for unit, rotor, gears in GEARINGS:
        at = [percent for percent, _ in places(gears)]
        kinds.add(abs(at[0] - unit.trip(rotor)) <= unit.tolerance.value if at else None)
    assert kinds == {True, False, None}


def test_end_rotors_are_drawn_at_the_stop_less_the_back_off() -> None:
    for unit, rotor in ROTORS:
        if rotor.place is not Place.TRAVEL:
            turns = back_off(unit, rotor).turns.value
            assert unit.trip(rotor) == pytest.approx(reference(unit, rotor))
            assert quarter_turns(turns) == turns


def test_rotors_in_travel_can_be_set_by_counted_quarter_turns() -> None:
    for unit, rotor in ROTORS:
        if rotor.place is Place.TRAVEL:
            drawn, stroke = unit.trip(rotor), unit.stroke_turns.value
            from_stop = min(drawn, 100 - drawn)
            counted = to_percent(quarter_turns(to_turns(from_stop, stroke)), stroke)
            assert 10 <= drawn <= 90
            assert abs(counted - from_stop) <= unit.tolerance.value


def test_every_kind_of_unit_is_drawn() -> None:
    assert {len(unit.rotors) for unit in UNITS} == {2, 4}
    assert {unit.seating for unit in UNITS} == set(Seating)
    assert {unit.cycle_revolutions is None for unit in UNITS} == {True, False}
    assert {unit.lamps[0].colour for unit in UNITS} >= {"red", "green"}
    assert {unit.lamps[0].contact for unit in UNITS} == {1, 2, 3, 4}


def test_third_and_fourth_rotor_are_set_in_either_direction() -> None:
    in_travel = {r.set_while for _, r in ROTORS if r.place is Place.TRAVEL}
    assert in_travel == set(Travel)


def test_shafts_turn_either_way_in_cycles_longer_than_a_stroke() -> None:
    assert {gears.rotation_while_opening for *_, gears in GEARINGS} == set(Rotation)
    for unit, _, gears in GEARINGS:
        assert gears.cycle > gears.revolutions_per_stroke
        if unit.cycle_revolutions is not None:
            assert gears.cycle == unit.cycle_revolutions.value


def test_strokes_are_whole_turns() -> None:
    strokes = [unit.stroke_turns.value for unit in UNITS]
    assert min(strokes) >= 30
    assert max(strokes) <= 200
    assert all(stroke == round(stroke) for stroke in strokes)


def test_contacts_are_numbered_by_their_rotor() -> None:
    for unit in UNITS:
        numbers = [contact for rotor in unit.rotors for contact in rotor.contacts]
        assert numbers == list(range(1, 4 * len(unit.rotors) + 1))
        assert [rotor.name for rotor in unit.rotors] == ["open", "closed", "third", "fourth"][
            : len(unit.rotors)
        ]


def test_contacts_of_a_rotor_make_and_break_in_many_mixtures() -> None:
    def makes(unit: Unit, rotor: Rotor) -> tuple[bool, ...]:
        past = unit.past(rotor, Travel.OPENING)
        return tuple(past[contact] == "closed" for contact in rotor.contacts)

    mixtures = {makes(unit, rotor) for unit, rotor in ROTORS}
    assert len(mixtures) >= 8


def test_lamps_are_lit_at_the_right_places() -> None:
    """The closed lamp everywhere but past the open trip, the open lamp but past the closed one."""
    for unit in UNITS:
        gears = Gearing(40, Rotation.CLOCKWISE, 55)
        right = {rotor.name: gears.tripping_at(unit.trip(rotor)) for rotor in unit.rotors}
        names = {lamp.name for lamp in unit.lamps}
        assert "closed lamp" in names
        for position, lit in ((0, {"closed lamp"}), (50, names), (100, {"open lamp"} & names)):
            assert set(lamps_lit(Actuator(unit, right, position))) == lit
