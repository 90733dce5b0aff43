"""The samples are at least as long to say as anything that the shipped units say."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from assistant.language.meaning import ContactStates, Lit, Quantity
from assistant.language.speaking import say_number
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.load import load_program
from assistant.procedure.longest import LONGEST, LONGEST_FIELDS, LONGEST_REASONS, filled
from assistant.procedure.names import kinds_of
from assistant.procedure.unit_sheet import load_unit
from assistant.procedure.values import FIELDS, Kind, Moment, RotorOfUnit, Trip, Value, say
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation, Travel
from assistant.trade.proof import trip_error
from assistant.trade.sweep import Sweep
from assistant.trade.unit import Rotor, Unit

PROCEDURES = Path(__file__).parents[2] / "procedures"
UNITS = [load_unit(file) for file in sorted((PROCEDURES / "units").glob("*.yaml"))]
TURNS = (0.25, 0.75, 1.75, 2.25, 7.75, 17.75, 27.75, 41.75)


def size(text: str) -> int:
    """How long a text is where its figures are written out as they are spoken."""
    spoken = re.sub(r"\d+(\.\d+)?", lambda found: say_number(float(found[0])), text)
    return len(spoken.replace("%", "percent"))


def sample_of(kind: Kind, field: str) -> str:
    return LONGEST_FIELDS.get((kind, field), LONGEST[FIELDS[kind][field].kind])


def rotors() -> Iterator[RotorOfUnit]:
    for unit in UNITS:
        for rotor in unit.rotors:
            yield RotorOfUnit(unit, rotor)


def contents(kind: Kind) -> Iterator[object]:
    if kind is Kind.UNIT:
        yield from UNITS
    elif kind is Kind.ROTOR:
        yield from rotors()
    elif kind is Kind.TRIP:
        for of in rotors():
            yield trip(of, 1.75)
    elif kind is Kind.ADVICE:
        for of in rotors():
            yield from advice(of)


def trip(of: RotorOfUnit, turns: float) -> Trip:
    error = trip_error(of.unit, of.rotor, turns)
    return Trip(of.unit.trip(of.rotor) + error.percent, turns, error)


def advice(of: RotorOfUnit) -> Iterator[object]:
    for reading in readings(of.rotor):
        inputs = {
            "rotor": Value(Kind.ROTOR, of),
            "seen": Value(Kind.ROTATION, Rotation.COUNTERCLOCKWISE),
            "reading": reading,
        }
        result = COMPUTATIONS["shaft-direction"].run(inputs).result
        if result is not None and result.content.turn is not None:
            yield result.content


def readings(rotor: Rotor) -> Iterator[Value]:
    """Every reading of a rotor's contacts."""
    for states in itertools.product(ContactState, repeat=len(rotor.contacts)):
        reading = dict(zip(rotor.contacts, states, strict=True))
        yield Value(Kind.READING, ContactStates.of(reading))


def whole_readings(unit: Unit) -> Iterator[Value]:
    """Readings of all contacts: as drawn at places in travel, and with some of them wrong."""
    contacts = unit.development.contacts
    for percent, wrong in itertools.product((0, 40, 100), range(1, 8)):
        drawn = {contact: unit.development.state_at(contact, percent) for contact in contacts}
        odd = {contact: state.other for contact, state in drawn.items() if contact % (wrong + 1)}
        yield Value(Kind.READING, ContactStates.of({**drawn, **odd}))


@pytest.mark.parametrize(
    ("kind", "field"), [(kind, field) for kind, fields in FIELDS.items() for field in fields]
)
def test_no_field_of_a_shipped_unit_is_longer_to_say(kind: Kind, field: str) -> None:
    entry = FIELDS[kind][field]
    said = [say(Value(entry.kind, entry.read(content))) for content in contents(kind)]
    assert said
    assert max(map(size, said)) <= size(sample_of(kind, field)), max(said, key=size)


@pytest.mark.parametrize(
    ("kind", "content"),
    [
        (Kind.DATE, date(2031, 9, 27)),
        (Kind.MOMENT, Moment(datetime(2031, 9, 27, 17, 37, 57))),
        (Kind.ROTATION, Rotation.COUNTERCLOCKWISE),
        (Kind.TRAVEL, Travel.CLOSING),
        (Kind.NUMBER, Quantity(77.75, "revolutions")),
        (Kind.LETTERS, "W417"),
        (Kind.LAMPS, Lit(("open lamp", "closed lamp"))),
        (Kind.CONTACTS, (13, 14, 15, 16)),
    ],
)
def test_no_value_as_in_the_shipped_papers_and_sheets_is_longer_to_say(
    kind: Kind, content: object
) -> None:
    assert size(say(Value(kind, content))) <= size(LONGEST[kind])


def test_every_kind_and_computation_has_a_sample() -> None:
    assert set(LONGEST) == set(Kind)
    assert set(LONGEST_REASONS) == set(COMPUTATIONS)
    assert all(field in FIELDS[kind] for kind, field in LONGEST_FIELDS)


AT = datetime(2031, 9, 27, 12, 0, 0)


def given(kind: Kind, of: RotorOfUnit) -> list[Value]:
    """Some values of a kind that a computation can be given on a unit."""
    unit = of.unit
    start = next(whole_readings(unit)).content.mapping()
    swept = Sweep(Travel.OPENING, start).end(41.75)
    many: dict[Kind, list[object]] = {
        Kind.UNIT: [unit],
        Kind.ROTOR: [of],
        Kind.NUMBER: [Quantity(turns, "turns") for turns in TURNS],
        Kind.ROTATION: list(Rotation),
        Kind.MOMENT: [Moment(AT + timedelta(seconds=after)) for after in (0, 7, 177)],
        Kind.DATE: [date(2029, 9, 27)],
        Kind.LETTERS: ["RV", "JT"],
        Kind.LAMPS: [Lit(()), Lit(tuple(lamp.name for lamp in unit.lamps))],
        Kind.TRIP: [trip(of, turns) for turns in TURNS],
        Kind.SWEEP: [swept, Sweep(Travel.OPENING, swept.start)],
    }
    if kind is Kind.READING:
        return [*readings(of.rotor), *whole_readings(unit)]
    return [Value(kind, content) for content in many[kind]]


@pytest.mark.parametrize("name", sorted(COMPUTATIONS))
def test_no_reason_of_a_computation_is_longer_to_say(name: str) -> None:
    computation = COMPUTATIONS[name]
    said: set[str] = set()
    for of in rotors():
        choices = [given(kind, of) for kind in computation.inputs.values()]
        for values in itertools.islice(itertools.product(*choices), 2000):
            inputs = dict(zip(computation.inputs, values, strict=True))
            if _fit(inputs, of):
                found = computation.run(inputs)
                if name != "shaft-direction" or found.outcome == "contradiction":
                    said |= set(_faults(name, found.because))
    assert said
    assert max(map(size, said)) <= size(LONGEST_REASONS[name]), max(said, key=size)


def _faults(name: str, because: str) -> list[str]:
    """The faults that a stroke shows, each by itself; any other reason as a whole."""
    return because.split(". ") if name == "diagnose" else [because]


def _fit(inputs: dict[str, Value], of: RotorOfUnit) -> bool:
    """A sweep is given readings of all contacts, everything else those of one rotor."""
    read = [set(value.content.mapping()) for value in inputs.values() if value.kind is Kind.READING]
    every = "sweep" in inputs or "unit" in inputs
    wanted = set(of.unit.development.contacts if every else of.rotor.contacts)
    return all(contacts == wanted for contacts in read)


def test_a_text_is_filled_with_the_longest_values() -> None:
    program = load_program(PROCEDURES / "set-geared-limits.yaml")
    node = program.nodes["prove-closed/before"]
    assert node.step.say is not None
    assert filled(node.step.say, node, program, kinds_of(program)) == (
        "Then crank twenty seven and three quarters turns toward closed. "
        "Read contacts thirteen, fourteen, fifteen and sixteen."
    )


def test_a_reason_is_filled_with_that_of_its_own_computation() -> None:
    program = load_program(PROCEDURES / "set-geared-limits.yaml")
    node = program.nodes["closed-end/set/still"]
    assert node.step.say is not None
    text = filled(node.step.say, node, program, kinds_of(program))
    assert text == LONGEST_REASONS["shaft-direction"]
