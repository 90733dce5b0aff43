from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.trade import (
    ContactState,
    Development,
    Drive,
    Fault,
    Lamp,
    Place,
    Rotor,
    Seating,
    Sourced,
    Travel,
    UnitError,
)
from tests import units
from tests.units import CLOSED, FOURTH, OPEN, THIRD, turns

# Complete with the one number that a sheet may leave out.
KF_12 = replace(units.KF_12, cycle_revolutions=Sourced(60, "revolutions", "invented"))
LINES = KF_12.development.closed


def faults_of(**changes: Any) -> tuple[Fault, ...]:
    with pytest.raises(UnitError) as refused:
        replace(KF_12, **changes)
    return refused.value.faults


def with_line(contact: int, *line: tuple[float, float]) -> dict[str, Any]:
    return {"development": Development({**LINES, contact: line})}


def with_rotors(*rotors: Rotor) -> dict[str, Any]:
    return {"rotors": rotors}


def with_open(**changes: Any) -> dict[str, Any]:
    return with_rotors(replace(OPEN, **changes), CLOSED, THIRD, FOURTH)


# Each sheet is wrong by a rule of the trade (common practice, no source): one trip point a rotor,
# each contact on one rotor, contacts 1 to 16 on two or four rotors of at most four contacts.
WRONG: dict[str, tuple[dict[str, Any], tuple[str | int, ...], str]] = {
    "no tag": ({"tag": " "}, ("tag",), "missing"),
    "no revision": ({"revision": ""}, ("revision",), "missing"),
    "an edge apart": (
        with_line(3, (0, 90)),
        ("rotors", "open"),
        "contacts 1, 2 and 4 at 97.9 %, contact 3 at 90 %",
    ),
    "an edge just too far apart": (with_line(3, (0, 97.3)), ("rotors", "open"), "contact 3"),
    "always closed": (with_line(2, (0, 100)), ("contacts", 2), "nowhere"),
    "never closed": (with_line(2), ("contacts", 2), "nowhere"),
    "two edges": (with_line(2, (20, 97.9)), ("contacts", 2), "20 % and 97.9 %"),
    "above full open": (with_line(2, (97.9, 101)), ("contacts", 2), "within 0 to 100"),
    "below the seat": (with_line(5, (-1, 1)), ("contacts", 5), "within 0 to 100"),
    "no number in a line": (with_line(5, (0, math.nan)), ("contacts", 5), "within 0 to 100"),
    "falling": (with_line(5, (1, 0)), ("contacts", 5), "must rise"),
    "empty interval": (with_line(5, (1, 1)), ("contacts", 5), "must rise"),
    "overlapping": (with_line(5, (0, 0.6), (0.4, 1)), ("contacts", 5), "stand apart"),
    "touching": (with_line(5, (0, 0.5), (0.5, 1)), ("contacts", 5), "stand apart"),
    "not ascending": (with_line(9, (60, 100), (0, 25)), ("contacts", 9), "ascend"),
    "contact 0": (with_line(0, (0, 50)), ("contacts", 0), "numbered 1 to 16"),
    "contact 17": (with_line(17, (0, 50)), ("contacts", 17), "numbered 1 to 16"),
    "contact 17 on a rotor": (
        with_open(contacts=(1, 2, 3, 17)),
        ("rotors", "open"),
        "numbered 1 to 16",
    ),
    "contact on no rotor": (with_open(contacts=(1, 2, 3)), ("contacts", 4), "it is on none"),
    "contact on two rotors": (
        with_open(contacts=(1, 2, 3, 5)),
        ("contacts", 5),
        "it is on open and closed",
    ),
    "contact without a line": (
        {"development": Development({n: line for n, line in LINES.items() if n != 10})},
        ("rotors", "third"),
        "contact 10 has no line",
    ),
    "contact twice": (with_open(contacts=(1, 2, 3, 3)), ("rotors", "open"), "more than once"),
    "no contact": (with_open(contacts=()), ("rotors", "open"), "one to four contacts, not 0"),
    "five contacts": (
        with_open(contacts=(1, 2, 3, 4, 9)),
        ("rotors", "open"),
        "one to four contacts, not 5",
    ),
    "no rotor": (with_rotors(), ("rotors",), "two or four rotors, not 0"),
    "one rotor": (with_rotors(OPEN), ("rotors",), "two or four rotors, not 1"),
    "three rotors": (with_rotors(OPEN, CLOSED, THIRD), ("rotors",), "two or four rotors, not 3"),
    "rotor name twice": (with_open(name="third"), ("rotors", "third"), "more than once"),
    "rotor of another name": (
        with_open(name="opn"),
        ("rotors", "opn"),
        "call a rotor open, closed, third or fourth",
    ),
    "rotor without a name": (with_open(name=""), ("rotors", ""), "a name is missing"),
    "open end set while closing": (
        with_open(set_while=Travel.CLOSING),
        ("rotors", "open"),
        "set while opening",
    ),
    "closed end set while opening": (
        with_rotors(OPEN, replace(CLOSED, set_while=Travel.OPENING), THIRD, FOURTH),
        ("rotors", "closed"),
        "set while closing",
    ),
    "lamp on an unknown contact": (
        {"lamps": (Lamp("open lamp", "red", 17),)},
        ("lamps", "open lamp"),
        "contact 17 has no line",
    ),
    "lamp name twice": (
        {"lamps": (Lamp("lamp", "red", 4), Lamp("lamp", "green", 8))},
        ("lamps", "lamp"),
        "more than once",
    ),
    "lamp without a colour": (
        {"lamps": (Lamp("lamp", "", 4),)},
        ("lamps", "lamp"),
        "colour is missing",
    ),
    "back-off as long as the stroke": (
        {"back_off_open": turns(48)},
        ("numbers", "back_off_open"),
        "fewer turns than the full stroke",
    ),
    "open end drawn elsewhere than its back-off": (
        # One turn of 48 from the open stop is 97.9 % (arithmetic).
        {
            "development": Development(
                {
                    **LINES,
                    **dict.fromkeys((1, 2), ((95.0, 100.0),)),
                    **dict.fromkeys((3, 4), ((0.0, 95.0),)),
                }
            )
        },
        ("rotors", "open"),
        "drawn at 95 %, but 1 turn from the stop is 97.9 %: one of them is wrong",
    ),
    "closed end drawn for the other seating": (
        # 1.5 turns of 48 are 3.125 % (arithmetic).
        {"seating": Seating.TORQUE},
        ("rotors", "closed"),
        "drawn at 1 %, but 1.5 turns from the stop is 3.12 %",
    ),
    "a place in travel that quarter turns miss": (
        # A quarter of 8 turns is 3.1 %; 40 % of them from the open stop is 3.2, counted 3.25, which
        # is 0.6 % off (arithmetic).
        {
            "stroke_turns": turns(8),
            "rotors": tuple(
                replace(rotor, place=Place.TRAVEL) for rotor in (OPEN, CLOSED, THIRD, FOURTH)
            ),
        },
        ("rotors", "fourth"),
        "a quarter turn is 3.1 % of this stroke: 60 % cannot be counted to within 0.5 %",
    ),
    "a tolerance that reaches the stop": (
        # The open rotor is drawn at 97.9 %, 2.1 % from its stop (arithmetic).
        {"tolerance": Sourced(2.2, "%", "invented")},
        ("rotors", "open"),
        "a tolerance of 2.2 % reaches that stop",
    ),
    "a tolerance that is the way to the stop": (
        {"tolerance": Sourced(1, "%", "invented")},
        ("rotors", "closed"),
        "drawn 1 % from its stop, and a tolerance of 1 % reaches that stop",
    ),
    "bypass at the wrong end": (
        {"bypass": 1},
        ("bypass-contact",),
        "contact 1 must be closed at the closed end",
    ),
    "number without an origin": (
        {"stroke_turns": Sourced(48, "turns", "")},
        ("numbers", "stroke_turns"),
        "where it comes from",
    ),
}


@pytest.mark.parametrize("case", WRONG)
def test_wrong_sheet_is_refused_at_its_place(case: str) -> None:
    changes, path, message = WRONG[case]
    found = [fault.message for fault in faults_of(**changes) if fault.path == path]
    assert any(message in text for text in found), found


NO_NUMBER = [0, -1, math.nan, math.inf, -math.inf, pytest.param(10**400, id="huge")]


@pytest.mark.parametrize("value", NO_NUMBER)
@pytest.mark.parametrize("name", sorted(KF_12.numbers))
def test_number_that_is_none_is_refused(name: str, value: float) -> None:
    faults = faults_of(**{name: replace(KF_12.numbers[name], value=value)})
    assert ("numbers", name) in {fault.path for fault in faults}


def test_a_place_in_travel_is_counted_from_the_nearer_stop() -> None:
    # 60 % of 10.1 turns is 6.06 from the closed stop, 0.6 % off a quarter; from the open stop it is
    # 4.04, 0.4 % off (arithmetic). 1 % from the closed stop, a tenth of a turn, counts as none.
    rotors = tuple(replace(rotor, place=Place.TRAVEL) for rotor in KF_12.rotors)
    faults = faults_of(rotors=rotors, stroke_turns=turns(10.1))
    assert {fault.path for fault in faults} == {("rotors", "closed")}


def test_a_tolerance_short_of_the_stop_is_taken() -> None:
    # The closed rotor is drawn at 1 %, the nearest of all to its stop.
    assert replace(KF_12, tolerance=Sourced(0.99, "%", "invented"))


def test_a_rotor_in_travel_has_no_stop_that_its_tolerance_could_reach() -> None:
    rotors = tuple(replace(rotor, place=Place.TRAVEL) for rotor in KF_12.rotors)
    assert replace(KF_12, rotors=rotors, tolerance=Sourced(30, "%", "invented"))


def test_all_faults_are_reported_at_once() -> None:
    faults = faults_of(
        **with_open(contacts=(1, 2, 3)),
        tag="",
        lamps=(Lamp("spare", "white", 17),),
        stroke_turns=turns(-48),
    )
    paths = {fault.path for fault in faults}
    assert {("tag",), ("contacts", 4), ("lamps", "spare"), ("numbers", "stroke_turns")} <= paths


def test_one_fault_gives_one_message() -> None:
    assert len(faults_of(**with_line(3, (0, 90)))) == 1
    assert len(faults_of(lamps=(Lamp("spare", "white", 17),))) == 1


def test_error_text_names_every_place() -> None:
    with pytest.raises(UnitError, match=r"(?s)tag: .*\nlamps spare: "):
        replace(KF_12, tag="", lamps=(Lamp("spare", "white", 17),))


def test_edges_within_the_tolerance_are_one_trip() -> None:
    # Exactly the tolerance apart counts as within; 97.9 less 97.4 is 0.5 (arithmetic).
    unit = replace(KF_12, **with_line(3, (0, 97.4)))
    # Mean of 97.9 three times and 97.4 once (arithmetic).
    assert unit.trip(unit.rotor("open")) == pytest.approx(97.775)


def test_sheet_without_a_cycle_length_is_complete() -> None:
    assert "cycle_revolutions" not in replace(KF_12, cycle_revolutions=None).numbers


def test_rotor_is_found_by_name() -> None:
    assert KF_12.rotor("third") is THIRD
    with pytest.raises(UnitError, match="it has open, closed, third, fourth") as refused:
        KF_12.rotor("fifth")
    assert refused.value.faults[0].path == ("rotors", "fifth")


def test_states_past_the_trip() -> None:
    # The scenario's drawing: at the open end 1 and 2 close, 3 and 4 open; 5 and 6 are closed
    # only below the closed trip; the fourth rotor closes 13 and 14 below.
    made, broken = ContactState.CLOSED, ContactState.OPEN
    assert KF_12.past(OPEN) == {1: made, 2: made, 3: broken, 4: broken}
    assert KF_12.past(OPEN, Travel.CLOSING) == {1: broken, 2: broken, 3: made, 4: made}
    assert KF_12.past(CLOSED) == {5: made, 6: made, 7: broken, 8: broken}
    assert KF_12.past(FOURTH) == {13: made, 14: made, 15: broken, 16: broken}


def test_expected_states_of_all_contacts() -> None:
    # Read off the scenario's drawing at half travel.
    closed = {n for n, state in KF_12.expected(50).items() if state is ContactState.CLOSED}
    assert closed == {3, 4, 7, 8, 9, 10, 13, 14}
    assert set(KF_12.expected(50)) == set(range(1, 17))


def test_unit_is_a_key() -> None:
    assert len({KF_12, replace(KF_12), replace(KF_12, tag="KF-13")}) == 2


@settings(deadline=None)
@given(st.lists(st.sampled_from(sorted(WRONG)), min_size=1, max_size=4, unique=True))
def test_sheets_with_several_mistakes_are_always_refused(cases: list[str]) -> None:
    changes: dict[str, Any] = {}
    for case in cases:
        changes.update(WRONG[case][0])
    # A wider tolerance reaches what quarter turns miss: such two are no mistake together.
    assume("a place in travel that quarter turns miss" not in cases or "tolerance" not in changes)
    assert faults_of(**changes)


any_number = st.floats() | st.integers()
any_line = st.lists(st.tuples(any_number, any_number), max_size=3).map(tuple)
any_rotor = st.builds(
    Rotor,
    st.sampled_from(["open", "closed", ""]),
    st.lists(st.integers(-1, 18), max_size=5).map(tuple),
    st.sampled_from(Place),
    st.sampled_from(Travel),
)
any_sourced = st.builds(Sourced, any_number, st.text(max_size=2), st.text(max_size=2))


@settings(deadline=None)
@given(
    st.fixed_dictionaries(
        {},
        optional={
            "tag": st.text(max_size=3),
            "rotors": st.lists(any_rotor, max_size=5).map(tuple),
            "development": st.builds(Development, st.dictionaries(st.integers(-1, 18), any_line)),
            "lamps": st.lists(
                st.builds(Lamp, st.text(max_size=2), st.text(max_size=2), st.integers()), max_size=3
            ).map(tuple),
            "stroke_turns": any_sourced,
            "back_off_open": any_sourced,
            "tolerance": any_sourced,
            "cycle_revolutions": st.none() | any_sourced,
            "bypass": st.none() | st.integers(-1, 18),
            "stated_seconds": st.none() | any_sourced,
            "stroke_time_tolerance": any_sourced,
            "drive": st.none() | st.builds(Drive, *[any_sourced] * 4),
        },
    )
)
def test_any_sheet_is_a_unit_or_a_unit_error(changes: dict[str, Any]) -> None:
    try:
        unit = replace(KF_12, **changes)
    except UnitError as refused:
        assert refused.faults
        return
    assert unit.stroke_seconds is None or unit.stroke_seconds.value > 0
    for rotor in unit.rotors:
        assert 0 < unit.trip(rotor) < 100
        assert unit.past(rotor) != unit.past(rotor, rotor.set_while.opposite)
