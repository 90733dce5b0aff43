"""The shipped files load; the sheets hold the scenario (invented data, no proof)."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.procedure.check_file import check_file
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.deeds import ActKind, Fact
from assistant.procedure.fit import check_fit
from assistant.procedure.load import load_program, sources_of
from assistant.procedure.model import AskKind
from assistant.procedure.unit_sheet import load_unit
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Travel
from assistant.trade.unit import Seating
from tests.procedure.shipped import FLAGSHIP, KF_07, KF_12, PROCEDURES, SHIPPED


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: str(file.relative_to(PROCEDURES)))
def test_every_shipped_file_has_no_problem(file: Path) -> None:
    check_file(file)


@pytest.mark.parametrize("sheet", [KF_07, KF_12], ids=["KF-07", "KF-12"])
def test_the_flagship_procedure_fits_both_units(sheet: Path) -> None:
    check_fit(load_program(FLAGSHIP), load_unit(sheet))


def test_the_sources_of_the_flagship_procedure_are_it_and_its_parts() -> None:
    sources = list(sources_of(FLAGSHIP))
    parts = sorted(str(file.relative_to(PROCEDURES)) for file in PROCEDURES.glob("parts/*.yaml"))
    assert sources[0] == FLAGSHIP.name
    assert set(sources[1:]) <= set(parts)
    assert len(sources) == len(set(sources))


PROGRAMS = [file for file in SHIPPED if file.parent == PROCEDURES]


def test_who_is_sent_to_lock_a_supply_off_is_waited_for() -> None:
    steps = {
        node.name: node.step.takes_work
        for file in PROGRAMS
        for node in load_program(file).nodes.values()
        if any(act.kind is ActKind.LOCK_OFF for act in node.step.acts)
    }
    assert steps
    assert all(steps.values()), steps


def test_kf_07_is_the_gate_valve_of_the_scenario() -> None:
    unit = load_unit(KF_07)
    assert (unit.tag, unit.seating, unit.stroke_turns.value) == ("KF-07", Seating.TORQUE, 62)
    assert {rotor.name: unit.trip(rotor) for rotor in unit.rotors} == pytest.approx(
        {"open": 98.4, "closed": 2.4}
    )
    assert states(KF_07, 100) == "1 2 7 8"
    assert states(KF_07, 50) == "3 4 7 8"
    assert states(KF_07, 0) == "3 4 5 6"


def test_kf_12_is_the_penstock_gate_of_the_scenario() -> None:
    unit = load_unit(KF_12)
    assert (unit.tag, unit.seating, unit.stroke_turns.value) == ("KF-12", Seating.POSITION, 48)
    trips = {"open": 97.9, "closed": 1.0, "third": 25, "fourth": 60}
    assert {rotor.name: unit.trip(rotor) for rotor in unit.rotors} == pytest.approx(trips)
    assert {rotor.name: rotor.set_while for rotor in unit.rotors} == {
        "open": Travel.OPENING,
        "closed": Travel.CLOSING,
        "third": Travel.OPENING,
        "fourth": Travel.CLOSING,
    }
    assert states(KF_12, 100) == "1 2 7 8 9 10 15 16"
    assert states(KF_12, 50) == "3 4 7 8 9 10 13 14"
    assert states(KF_12, 0) == "3 4 5 6 11 12 13 14"


def states(sheet: Path, travel: float) -> str:
    """The contacts that are closed at a place in travel."""
    expected = load_unit(sheet).expected(travel)
    return " ".join(str(n) for n, state in expected.items() if state is ContactState.CLOSED)


def test_the_writers_page_names_every_computation_act_fact_and_question() -> None:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    facts = set(Fact) - {Fact.ROD_OUT, Fact.MID_TRAVEL, Fact.ENERGISED}
    named = {*COMPUTATIONS, *ActKind, *facts, *(f"ask: {kind}" for kind in AskKind)}
    assert {name for name in named if name not in page} == set()
