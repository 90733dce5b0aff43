"""The questions for a unit sheet: what comes out is a sheet, and what is wrong is told at once.

The numbers of common practice (1, 1.5 and 0.5 turns, contacts 1 to 4 on the first rotor) have no
source; turns and percent of travel are arithmetic.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.procedure.new_sheet import AnswerRefused, Interview, sheet_text
from assistant.procedure.unit_rules.judge import judge_sheet
from assistant.procedure.unit_sheet import load_unit, read_unit
from assistant.rig.random_units import unit_from
from assistant.trade.unit import Seating, Unit, UnitError
from tests.procedure.sheet_answers import answer_for, interviewed
from tests.procedure.shipped import KF_07, KF_12


def sheet_of(interview: Interview) -> Unit:
    return read_unit(sheet_text(dict(interview.values), "unit.schema.json"), "u.yaml")


def back_offs_of(unit: Unit) -> dict[str, object]:
    """Only the back-off of its own seating is asked for."""
    other = {Seating.TORQUE: "back_off_position", Seating.POSITION: "back_off_torque"}
    return {name: n for name, n in unit.numbers.items() if name != other[unit.seating]}


@pytest.mark.parametrize("file", [KF_07, KF_12], ids=["KF-07", "KF-12"])
def test_a_shipped_sheet_comes_out_of_its_answers(file: object) -> None:
    unit = load_unit(KF_07 if file == KF_07 else KF_12)
    assert sheet_of(interviewed(unit)) == unit


def test_random_units_come_out_of_their_answers() -> None:
    for seed in range(30):
        unit, _ = unit_from(random.Random(seed))
        made = sheet_of(interviewed(unit))
        assert (made.rotors, made.lamps) == (unit.rotors, unit.lamps)
        assert made.development == unit.development
        assert back_offs_of(made) == back_offs_of(unit)
        text = sheet_text(dict(interviewed(unit).values), "unit.schema.json")
        assert {problem.level for problem in judge_sheet(text, "u.yaml")} <= {"warning"}


SPOKEN = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Cn", "Co"]))


@given(service=SPOKEN, lamp=SPOKEN, origin=SPOKEN)
@settings(max_examples=150, derandomize=True, deadline=None)
def test_any_text_that_is_taken_comes_out_as_it_was_typed(
    service: str, lamp: str, origin: str
) -> None:
    unit = load_unit(KF_07)
    closed, other = unit.lamps
    try:
        unit = replace(
            unit,
            service=service,
            lamps=(replace(closed, name=lamp), other),
            stroke_turns=replace(unit.stroke_turns, origin=origin),
        )
    except UnitError:
        return  # Nothing, or the name of the other lamp.
    try:
        interview = interviewed(unit)
    except AnswerRefused:
        return  # No sheet could hold it.
    made = sheet_of(interview)
    assert made.service == " ".join(unit.service.split())
    assert made.lamps[0].name == " ".join(unit.lamps[0].name.split())
    assert made.stroke_turns.origin == " ".join(unit.stroke_turns.origin.split())


def at(*key: str, unit: Unit | None = None) -> Interview:
    """The interview of a unit up to the question with this key."""
    known = unit or load_unit(KF_12)
    interview = Interview()
    while (question := interview.question) is not None and question.key != key:
        interview = interview.answered(answer_for(known, question.key))
    assert interview.question is not None
    return interview


@pytest.mark.parametrize(
    ("key", "text", "essence"),
    [
        (("unit",), "", "an answer is needed"),
        (("unit",), "--", "letters from A to Z"),
        (("unit",), "KF\x0015", "cannot be shown or spoken"),
        (("spoken",), "kilo foxtrot one six", "spells KF16, and the valve is 'KF-12'"),
        (("seating",), "torqe", "did you mean 'torque'?"),
        (("numbers", "stroke-turns", "value"), "many", "must be a number"),
        (("numbers", "stroke-turns", "value"), "0", "greater than 0"),
        (("numbers", "back-off-open", "value"), "48", "fewer turns than the full stroke"),
        (("rotor-count",), "3", "two or four"),
        (("rotors", "open", "contacts"), "1 2 3 4 5", "one to four contacts"),
        (("rotors", "open", "contacts"), "1 1", "each once"),
        (("rotors", "open", "contacts"), "1 17", "numbered 1 to 16"),
        (("rotors", "closed", "contacts"), "4 5", "contact 4 is on rotor 'open' already"),
        (("rotors", "third", "set-at"), "middle", "known here: closed end, open end, travel"),
        (("contacts", "1"), "98", "two numbers in percent"),
        (("contacts", "1"), "98 101", "lie within 0 to 100 %"),
        (("contacts", "1"), "0 100", "must change over once"),
        # One turn of 48 is 2.08 % (arithmetic).
        (("contacts", "1"), "95 100", "1 turn from the stop is 97.9 %"),
        (("contacts", "2"), "97 100", "drawn apart by more than 0.5 %"),
        (("bypass-contact",), "1", "must be closed at the closed end"),
        (("lamps", "2", "name"), "closed lamp", "used more than once"),
        (("lamps", "1", "contact"), "x", "a number from 1 to 16"),
    ],
)
def test_what_is_wrong_is_told_at_its_question(
    key: tuple[str, ...], text: str, essence: str
) -> None:
    interview = at(*key)
    with pytest.raises(AnswerRefused) as refused:
        interview.answered(text)
    assert essence in str(refused.value)
    assert "the answer:" not in str(refused.value)


def test_a_contact_that_has_no_line_lights_no_lamp() -> None:
    interview = at("lamps", "1", "contact", unit=load_unit(KF_07))
    with pytest.raises(AnswerRefused, match="no line in the contact development"):
        interview.answered("9")


def test_what_is_usual_is_named_and_taken_with_its_origin() -> None:
    interview = at("numbers", "back-off-open", "value")
    question = interview.question
    assert question is not None
    assert (question.usual, question.usual_from) == ("1", "common practice")
    interview = interview.answered("").answered("")
    assert dict(interview.values)["numbers", "back-off-open", "value"] == 1
    assert dict(interview.values)["numbers", "back-off-open", "origin"] == "common practice"


def test_another_number_than_the_usual_one_has_an_origin_of_its_own() -> None:
    interview = at("numbers", "back-off-open", "value").answered("1.25")
    with pytest.raises(AnswerRefused, match="an answer is needed"):
        interview.answered("")


def test_the_time_of_a_stroke_is_asked_for_in_seconds_or_by_the_drive() -> None:
    seconds = {key for key, _ in interviewed(load_unit(KF_07)).answers}
    drive = {key for key, _ in interviewed(load_unit(KF_12)).answers}
    assert ("numbers", "stem-lead", "value") not in seconds
    assert ("numbers", "stem-lead", "value") in drive
    neither = at("numbers", "stroke-seconds", "value").answered("").answered("")
    assert neither.question is not None
    assert neither.question.key == ("rotor-count",)


def test_going_back_asks_the_last_question_again() -> None:
    interview = interviewed(load_unit(KF_12))
    for key, _ in reversed(interview.answers):
        interview = interview.back()
        assert interview.question is not None
        assert interview.question.key == key
    assert interview == Interview()
    assert interview.back() == Interview()


def test_other_answers_after_going_back_lead_to_other_questions() -> None:
    interview = at("numbers", "back-off-position", "value")
    while interview.question is None or interview.question.key != ("seating",):
        interview = interview.back()
    other = interview.answered("torque")
    while other.question is not None and other.question.key[1:2] != ("back-off-torque",):
        other = other.answered(answer_for(load_unit(KF_12), other.question.key))
    assert other.question is not None
