"""The unit in which a number was asked for goes with it; that a turn is no millimetre is plain."""

from __future__ import annotations

import pytest

from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.load import program_from_texts
from assistant.procedure.problems import FileRefused, Problem
from assistant.procedure.values import FIELDS, Kind, RotorOfUnit, Trip
from assistant.trade.proof import TripError
from tests.procedure.shipped import PROCEDURES
from tests.session.job import kf

PROVE, SET, FIND = "parts/prove-rotor.yaml", "parts/set-rotor.yaml", "parts/find-trips.yaml"


def problems(file: str, *changes: tuple[str, str]) -> list[Problem]:
    """What the loader says of the units of the flagship once one of its files was changed."""

    def text_of(name: str) -> str:
        text = (PROCEDURES / name).read_text(encoding="utf-8")
        for old, new in changes if name == file else ():
            assert old in text
            text = text.replace(old, new, 1)
        return text

    try:
        program_from_texts("set-geared-limits.yaml", text_of)
    except FileRefused as refused:
        return [one for one in refused.problems if one.rule == "number-unit"]
    return []


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        (PROVE, "unit: turns", "unit: revolutions"),
        (PROVE, "unit: turns", "unit: millimetres"),
        (PROVE, "unit: turns", 'unit: "%"'),
        (SET, "unit: revolutions", "unit: turns"),
        (SET, "{unit: unit, turns: count}", "{unit: unit, turns: rotor.turns}"),
        (SET, "{turns: rotor.start, toward", "{turns: rotor.trip, toward"),
        (FIND, "most: unit.most-turns", "most: unit.most-revolutions"),
    ],
)
def test_a_number_in_another_unit_is_refused(file: str, old: str, new: str) -> None:
    assert problems(file) == []
    assert problems(file, (old, new))


def test_the_message_names_both_units() -> None:
    (problem,) = problems(PROVE, ("unit: turns", "unit: millimetres"))
    assert "'turns' is a number in millimetres" in problem.message
    assert "'prove-trip' counts in turns" in problem.message


def test_another_name_of_the_same_unit_is_the_same_unit() -> None:
    assert problems(PROVE, ("unit: turns", "unit: turn")) == []


@pytest.mark.parametrize("kind", [Kind.UNIT, Kind.ROTOR, Kind.TRIP])
def test_a_field_that_is_a_number_has_the_unit_that_it_says(kind: Kind) -> None:
    unit = kf("12")
    of = {
        Kind.UNIT: unit,
        Kind.ROTOR: RotorOfUnit(unit, unit.rotors[2]),
        Kind.TRIP: Trip(2.5, 1.0, TripError(0.25, 0.5, within=True)),
    }
    for name, field in FIELDS[kind].items():
        if field.kind is Kind.NUMBER:
            assert field.read(of[kind]).unit == field.unit, name
        else:
            assert field.unit is None, name


def test_the_unit_of_each_input_and_result_belongs_to_a_number() -> None:
    for name, computation in COMPUTATIONS.items():
        assert all(computation.inputs[key] is Kind.NUMBER for key in computation.units), name
        assert (computation.result is Kind.NUMBER) is (computation.result_unit is not None), name
