"""Names in texts, questions, acts, computations and records: an error at load, not in the job."""

from __future__ import annotations

import pytest

from tests.procedure.refusals import END, HEAD, MAIN, assert_refused, load, part

SEEN = "  - step: see\n    say: Which way?\n    ask: rotation\n    of: rotor\n    into: seen\n"
FOUND = (
    "  - step: read\n    say: Read.\n    ask: contacts\n    of: rotor.contacts\n    into: found\n"
)
ADVICE = """\
  - step: direction
    compute: shaft-direction
    from: {rotor: rotor, seen: seen, reading: found}
    into: advice
    because: reasons
    go: {already: told, not-yet: told, contradiction: told}
"""
MAIN_TEXT = f"""\
{HEAD}parts: {{p: p.yaml}}
steps:
  - step: end
    call: p
    with: {{rotor: open}}
{END}"""


def refused(sample: str, *essences: str) -> None:
    assert_refused({MAIN: MAIN_TEXT, "p.yaml": part(sample)}, *essences)


@pytest.mark.parametrize(
    ("text", "essence"),
    [
        ("The ¶{rotr.name} shaft.", "nothing is called 'rotr' here; did you mean 'rotor'?"),
        ("The ¶{rotor.nmae} shaft.", "no field 'nmae' in the kind rotor; did you mean 'name'?"),
        ("Turn {seen} ¶{sen}.", "did you mean 'seen'?"),
        ("Turn ¶{seen.way}.", "no field 'way' in the kind rotation"),
        ("Unit ¶{unit.seeting}.", "did you mean 'seating'?"),
        ("Unit ¶{unit.tag.first}.", "no field 'first' in the kind letters"),
        (">\n      One, {rotor.name},\n      two, ¶{rotr.name}.", "nothing is called 'rotr'"),
        ("|\n      ¶{rotr.name}\n", "nothing is called 'rotr'"),
        ('"One, ¶{rotr.name}"', "nothing is called 'rotr'"),
        ('¶"\\x7brotr.name\\x7d"', "nothing is called 'rotr'"),
    ],
)
@pytest.mark.parametrize("field", ["say", "warning", "hold"])
def test_a_misspelt_name_in_a_text_is_told_at_its_brace(
    field: str, text: str, essence: str
) -> None:
    refused(f"{SEEN}  - step: tell\n    {field}: {text}\n", essence)


@pytest.mark.parametrize(
    ("lines", "essence"),
    [
        (
            "say: A?\n    ask: contacts\n    of: ¶rotor",
            "'rotor' is of the kind rotor; the kind contacts",
        ),
        ("say: A?\n    ask: rotation\n    of: ¶rotor.contacts", "the kind rotor is needed"),
        ("say: A?\n    ask: rotation\n    of: ¶rotr", "did you mean 'rotor'?"),
        ("say: A.\n    record: {way: ¶sen}", "did you mean 'seen'?"),
    ],
)
def test_names_elsewhere_are_told_where_they_stand(lines: str, essence: str) -> None:
    refused(f"{SEEN}  - step: a\n    {lines}\n", essence)


def test_the_kinds_that_an_act_and_a_computation_need() -> None:
    act = "      - crank: {turns: ¶rotor.travel, toward: ¶seen}\n"
    refused(
        f"{SEEN}  - step: a\n    say: A.\n    does:\n{act}    ask: done\n",
        "the kind number is needed",
        "the kind travel is needed",
    )
    advice = ADVICE.replace("reading: found", "reading: ¶seen")
    refused(
        f"{SEEN}{FOUND}{advice}  - step: told\n    say: Hi.\n",
        "the kind reading is needed",
    )


def test_what_a_spelled_answer_is_compared_with_must_be_spelled_too() -> None:
    ask = "  - step: a\n    say: Spell.\n    ask: spelling\n    expect: ¶unit.stroke\n"
    refused(f"{ask}    go: {{match: return, mismatch: return}}\n", "the kind letters is needed")


def test_a_name_without_a_value_on_one_of_two_ways() -> None:
    ask = "  - step: a\n    say: Watched?\n    ask: yes-no\n    go: {yes: see, no: tell}\n"
    refused(
        f"{ask}{SEEN}  - step: tell\n    say: It turned ¶{{seen}}.\n",
        "'seen' may have no value yet",
    )


def test_a_name_that_gets_its_value_only_later() -> None:
    refused(
        f"  - step: tell\n    say: It turned ¶{{seen}}.\n{SEEN}", "'seen' may have no value yet"
    )


def test_a_name_with_a_value_on_both_ways() -> None:
    ask = "  - step: a\n    say: Watched?\n    ask: yes-no\n    go: {yes: see, no: look}\n"
    look = SEEN.replace("step: see", "step: look")
    text = f"{ask}{SEEN}    go: tell\n{look}  - step: tell\n    say: It turned {{seen}}.\n"
    assert "end/tell" in load({MAIN: MAIN_TEXT, "p.yaml": part(text)}).nodes


def test_there_is_no_direction_after_a_contradiction_but_there_are_reasons() -> None:
    tell = "  - step: told\n    say: Turn ¶{advice.turn}. {reasons}\n"
    refused(SEEN + FOUND + ADVICE + tell, "'advice' may have no value yet")


def test_a_computation_cannot_record_a_result_that_a_contradiction_would_not_give() -> None:
    tell = "  - step: told\n    say: Hi.\n"
    refused(f"{SEEN}{FOUND}{ADVICE}    record: {{way: ¶advice.turn}}\n{tell}", "may have no value")


def test_a_question_and_a_computation_can_record_what_they_give() -> None:
    tell = "  - step: told\n    say: Hi.\n"
    text = f"{SEEN}    record: {{way: seen}}\n{FOUND}{ADVICE}    record: {{why: reasons}}\n{tell}"
    assert "end/told" in load({MAIN: MAIN_TEXT, "p.yaml": part(text)}).nodes


def test_names_of_a_part_do_not_reach_its_caller() -> None:
    main = MAIN_TEXT.replace("say: Done.", "say: It turned ¶{seen}.")
    assert_refused({MAIN: main, "p.yaml": part(SEEN)}, "nothing is called 'seen' here")


def test_names_that_are_taken_and_names_of_two_kinds() -> None:
    refused(
        SEEN.replace("into: seen", "into: rotor").replace("- step", "- ¶step"), "'rotor' is taken"
    )
    refused(
        SEEN.replace("into: seen", "into: unit").replace("- step", "- ¶step"), "'unit' is taken"
    )
    again = FOUND.replace("into: found", "into: seen").replace("- step", "- ¶step")
    refused(SEEN + again, "'seen' is of the kind rotation elsewhere and reading here")


def test_an_unreached_step_is_not_also_told_to_lack_values() -> None:
    text = f"{SEEN}    go: return\n  - ¶step: tell\n    say: It turned {{seen}}.\n"
    refused(text, "never reached")
