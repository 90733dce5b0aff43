"""A number between two limits, and the time between two moments. That a limit itself counts as
within is common practice, no source; the numbers are made up."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from jsonschema import Draft202012Validator

from assistant.language.meaning import Quantity
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.papers import PapersError, read_papers
from assistant.procedure.schema import SCHEMA_FILES
from assistant.procedure.values import FIELDS, Kind, Moment, RotorOfUnit, Value
from tests.procedure.editor_yaml import by_yaml_1_2
from tests.procedure.refusals import END, HEAD, MAIN, assert_refused, load, part, steps
from tests.procedure.test_longest import UNITS, contents

AT = datetime(2031, 5, 14, 9, 0, tzinfo=UTC)
LATER = Moment(AT + timedelta(minutes=2))


def number(value: float, unit: str) -> Value:
    return Value(Kind.NUMBER, Quantity(value, unit))


@pytest.mark.parametrize(
    ("value", "unit", "outcome", "because"),
    [
        (41, "newton metres", "within", "Forty one newton metres, from thirty eight to forty two."),
        (38, "newton metres", "within", "Thirty eight newton metres, from thirty eight to forty"),
        (42, "newton metres", "within", "Forty two newton metres, from thirty eight to forty two."),
        (37.9, "newton metres", "below", "Thirty seven point nine newton metres, below thirty"),
        (42.1, "newton metres", "above", "Forty two point one newton metres, above forty two."),
        (40.5, "turns", "within", "Forty and a half turns, from thirty eight to forty two."),
    ],
)
def test_a_limit_itself_is_within(value: float, unit: str, outcome: str, because: str) -> None:
    inputs = {"number": number(value, unit), "least": number(38, unit), "most": number(42, unit)}
    finding = COMPUTATIONS["within-limits"].run(inputs)
    assert finding.outcome == outcome
    assert finding.because.startswith(because)


def test_limits_in_quarters_are_said_in_quarters() -> None:
    inputs = {"number": number(1.5, "turns"), "least": number(0.5, "turns")}
    finding = COMPUTATIONS["within-limits"].run({**inputs, "most": number(1.75, "turns")})
    assert finding.because == "One and a half turns, from half to one and three quarters."


def test_what_is_reckoned_to_a_limit_is_within_it() -> None:
    inputs = {"number": number(0.1 + 0.2, "bar"), "least": number(0, "bar")}
    finding = COMPUTATIONS["within-limits"].run({**inputs, "most": number(0.3, "bar")})
    assert finding.outcome == "within"


@pytest.mark.parametrize(
    ("begun", "stopped", "outcome"),
    [
        (Moment(AT), LATER, "next"),
        (Moment(AT), Moment(AT), "unknown"),
        (Moment(AT), Moment(AT - timedelta(seconds=1)), "unknown"),
        (Moment(AT, measured_from=False), LATER, "unknown"),
        (Moment(AT), replace(LATER, measured_from=False), "unknown"),
    ],
)
def test_the_time_between_two_moments(begun: Moment, stopped: Moment, outcome: str) -> None:
    inputs = {"begun": Value(Kind.MOMENT, begun), "stopped": Value(Kind.MOMENT, stopped)}
    finding = COMPUTATIONS["elapsed"].run(inputs)
    assert finding.outcome == outcome
    assert finding.result == (number(120.0, "seconds") if outcome == "next" else None)
    if outcome == "next":
        assert finding.because == "It took one hundred and twenty seconds."


# What a file may say


TORQUE = """\
  - step: torque
    say: Tighten it. How many newton metres?
    ask: number
    unit: newton metres
    least: 5
    most: 75
    into: torque
"""


def judged(limits: str, sign: str = "¶") -> str:
    return f"""{TORQUE}  - step: judge
    compute: {sign}within-limits
    from: {{number: torque, {limits}}}
    go: {{within: finish, below: torque-off, above: torque-off}}
  - step: torque-off
    hold: It is off.
    go: torque
"""


@pytest.mark.parametrize(
    "limits",
    [
        "least: 38 newton metres, most: 42 newton metres",
        "least: 38 Nm, most: 42.5 newton   metres",
        "least: 38 Nm, most: most-torque",
    ],
)
def test_limits_are_written_or_come_from_the_papers(limits: str) -> None:
    papers = "papers: {most-torque: {number: Nm}}\n"
    text = steps(judged(limits, "")).replace("steps:", f"{papers}steps:", 1)
    program = load(text)
    assert read_papers(program, {"most-torque": "42"}) == {"most-torque": number(42, "Nm")}
    validator = Draft202012Validator(SCHEMA_FILES["procedure.schema.json"]())
    assert [error.message for error in validator.iter_errors(by_yaml_1_2(text))] == []


@pytest.mark.parametrize(
    ("limits", "essence"),
    [
        ("least: 38 bar, most: 42 bar", "'number' in newton metres, 'least' in bar, 'most' in bar"),
        ("least: 38 Nm, most: 42 bar", "cannot be compared: give all of them in one unit"),
        ("least: 38 Nm, most: unit.stroke", "'most' in turns cannot be compared"),
        ("least: 42 Nm, most: 38 Nm", "'least' must be below 'most', 38"),
    ],
)
def test_limits_of_another_unit_are_refused(limits: str, essence: str) -> None:
    assert_refused(steps(judged(limits)), essence)


@pytest.mark.parametrize(
    ("limits", "essence"),
    [
        ("least: ¶38, most: 42 Nm", "must be a number with its unit, like '38 turns', not '38'"),
        ("least: ¶38 furlongs, most: 42 Nm", "no words for the unit 'furlongs'"),
        ("least: ¶1e9 Nm, most: 42 Nm", "must be a number with its unit"),
        ("least: 38 Nm, most: ¶Torque", "is no name"),
    ],
)
def test_a_limit_that_is_no_number_with_its_unit(limits: str, essence: str) -> None:
    assert_refused(steps(judged(limits, "")), essence)


def test_what_is_compared_has_to_be_measured_and_cannot_be_written() -> None:
    text = judged("least: 38 Nm, most: 42 Nm", "").replace("number: torque", "number: ¶40 Nm")
    assert_refused(steps(text), "'40 Nm' is no name")


CALLED = part(
    """  - step: judge
    compute: within-limits
    from: {number: value, least: least, most: 42 newton metres}
    go: {within: return, below: off, above: off}
  - step: off
    hold: It is off.
    go: return
""",
    "{value: number, least: number}",
)


def test_the_unit_of_what_a_part_is_given_is_that_of_the_caller() -> None:
    caller = (
        HEAD
        + "parts: {judge: judge.yaml}\npapers: {low: {number: %s}}\nsteps:\n"
        + TORQUE
        + "  - step: ask\n    call: judge\n    with: {value: torque, least: low}\n"
        + END
    )
    load({MAIN: caller % "newton metres", "judge.yaml": CALLED})
    wrong = CALLED.replace("compute: within", "compute: ¶within")
    assert_refused({MAIN: caller % "bar", "judge.yaml": wrong}, "'least' in bar")


def test_the_time_in_minutes_is_no_time_in_seconds() -> None:
    text = """\
  - {step: begun, say: Say mark., ask: mark, when: begun}
  - {step: over, say: Say mark., ask: mark, when: over}
  - step: time
    compute: elapsed
    from: {begun: begun, stopped: over}
    into: took
    go: {next: judge, unknown: off}
  - step: judge
    compute: ¶within-limits
    from: {number: took, least: 0 minutes, most: 2 minutes}
    go: {within: finish, below: off, above: off}
  - {step: off, hold: It is off., go: begun}
"""
    assert_refused(steps(text), "'number' in seconds, 'least' in minutes")
    load(steps(text.replace("¶", "").replace("minutes", "seconds")))


@pytest.mark.parametrize("paper", ["many", "1,5", "38 Nm", "nan", "1e999", "1e9"])
def test_a_paper_that_is_no_number(paper: str) -> None:
    papers = "papers: {least-torque: {number: newton metres}}\n"
    program = load(HEAD + papers + f"steps:\n{END}")
    with pytest.raises(PapersError, match=r"least-torque: '.*' is no number of newton metres"):
        read_papers(program, {"least-torque": paper})


@pytest.mark.parametrize(
    ("paper", "essence"),
    [
        ("{number: ¶furlongs}", "no words for the unit 'furlongs'"),
        ("¶{}", "needs 'number:'"),
        ("¶number", "'torque' is of no kind 'number'"),
    ],
)
def test_a_number_of_the_papers_has_a_unit(paper: str, essence: str) -> None:
    assert_refused(f"{HEAD}papers: {{torque: {paper}}}\nsteps:\n{END}", essence)
    text = f"{HEAD}papers: {{torque: {paper}}}\nsteps:\n{END}".replace("¶", "")
    validator = Draft202012Validator(SCHEMA_FILES["procedure.schema.json"]())
    assert not validator.is_valid(json.loads(json.dumps(by_yaml_1_2(text))))


# The units that the loader reckons with are those that the values have


def numbers_of(kind: Kind) -> Mapping[str, str]:
    return {name: str(f.unit) for name, f in FIELDS[kind].items() if f.kind is Kind.NUMBER}


@pytest.mark.parametrize("kind", [Kind.UNIT, Kind.ROTOR, Kind.TRIP])
def test_every_field_that_is_a_number_names_its_unit(kind: Kind) -> None:
    for name, unit in numbers_of(kind).items():
        assert {FIELDS[kind][name].read(content).unit for content in contents(kind)} == {unit}


def test_every_result_that_is_a_number_names_its_unit() -> None:
    unit = UNITS[0]
    given = {
        "unit": Value(Kind.UNIT, unit),
        "rotor": Value(Kind.ROTOR, RotorOfUnit(unit, unit.rotors[0])),
        "turns": number(4, "revolutions"),
        "begun": Value(Kind.MOMENT, Moment(AT)),
        "stopped": Value(Kind.MOMENT, Moment(AT + timedelta(seconds=50))),
    }
    counted = {n: c for n, c in COMPUTATIONS.items() if c.result is Kind.NUMBER}
    assert counted.keys() == {"shaft-speed", "stroke-time", "elapsed"}
    for name, computation in COMPUTATIONS.items():
        assert (computation.result_unit is not None) == (name in counted)
    for computation in counted.values():
        result = computation.run({name: given[name] for name in computation.inputs}).result
        assert result is not None
        assert result.content.unit == computation.result_unit
