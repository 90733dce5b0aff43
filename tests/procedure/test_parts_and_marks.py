"""Parts that take values and return outcomes, and what a step says of the valve."""

from __future__ import annotations

import pytest

from assistant.procedure.deeds import Fact
from tests.procedure.refusals import END, HEAD, MAIN, PART_HEAD, assert_refused, load, steps

PART = "p.yaml"
ASK = """\
  - step: ask
    say: How many turns?
    ask: number
    unit: turns
    least: 0
    most: 9
    into: turns
"""
TWO_WAYS = f"""\
{PART_HEAD}inputs: {{count: number}}
returns: [few, many]
steps:
  - step: judge
    say: That was {{count}}. Is it few?
    ask: yes-no
    go: {{"yes": return-few, "no": return-many}}
"""


def main(call: str) -> str:
    return f"{HEAD}parts: {{p: p.yaml}}\nsteps:\n{ASK}{call}{END}"


CALL = """\
  - step: judge
    call: p
    with: {count: turns}
    go: {few: ask, many: finish}
"""


def test_a_part_takes_a_value_and_returns_an_outcome() -> None:
    call = CALL.replace("few: ask", "few: finish")
    program = load({MAIN: main(call), PART: TWO_WAYS})
    judge = program.nodes["judge/judge"]
    assert judge.targets == {"yes": "finish", "no": "finish"}
    assert judge.scope.absolute("count") == "turns"


def test_a_value_that_a_part_gave_is_named_by_the_call() -> None:
    called = f"{PART_HEAD}steps:\n{ASK}"
    told = "  - step: find\n    call: p\n  - step: tell\n    say: It was {find.turns}.\n"
    text = f"{HEAD}parts: {{p: p.yaml}}\nsteps:\n{told}{END}"
    load({MAIN: text, PART: called})
    wrong = text.replace("{find.turns}", "¶{find.turn}")
    assert_refused({MAIN: wrong, PART: called}, "nothing is called 'find' here")


@pytest.mark.parametrize(
    ("call", "essence"),
    [
        (CALL.replace("turns}", "¶nothing}"), "nothing is called 'nothing' here"),
        (
            CALL.replace("  - step: judge", "  - ¶step: judge").replace(", many: finish", ""),
            "must say where to 'go:' after 'many'",
        ),
        (CALL.replace("many: finish}", "many: finish, mny: ¶finish}"), "no outcome 'mny'"),
    ],
)
def test_a_call_that_does_not_fit_its_part(call: str, essence: str) -> None:
    call = call.replace("few: ask", "few: finish")
    assert_refused({MAIN: main(call), PART: TWO_WAYS}, essence)


def test_a_part_returns_only_with_its_own_outcomes() -> None:
    called = TWO_WAYS.replace("return-many}", "¶return-lots}")
    call = CALL.replace("few: ask", "few: finish")
    assert_refused({MAIN: main(call), PART: called}, "returns with no outcome of the part")


@pytest.mark.parametrize(
    ("lines", "essence"),
    [
        ("say: A?\n    ask: yes-no\n    proves: {'yes': ¶isolatd}", "did you mean 'isolated'?"),
        ("say: A?\n    ask: yes-no\n    proves: {'yes': ¶rod-out}", "nothing known is called"),
        ("say: A?\n    ask: done\n    tick: ¶240", "at most 200 a minute"),
        ("say: A.\n    ¶tick: 100", "goes with a question"),
        ("say: A?\n    ask: choice\n    choices: [a, b]\n    ¶may-skip: yes", "may be skipped"),
        ("say: A?\n    ask: done\n    into: a\n    ¶may-skip: yes", "may be skipped"),
        ("say: A.\n    ¶work: yes", "work goes with a question"),
        ("say: A?\n    ask: done\n    read-back: ¶yes", "cannot be read back"),
        ("say: A?\n    ask: spelling\n    read-back: ¶maybe", "yes or no"),
        ("say: A.\n    ¶read-back: yes", "read-back"),
        ("say: A?\n    ask: done\n    does: try-shafts\n    ¶may-skip: yes", "may be skipped"),
        ("say: A?\n    ask: agreement\n    by: ¶chekcer", "no words for the role 'chekcer'"),
        (
            "say: A?\n    ask: number\n    unit: turns\n    ¶called: [stop]\n    least: 0\n"
            "    most: 9",
            "the command 'stop'",
        ),
        (
            "say: A?\n    ask: number\n    unit: turns\n    least: 0\n    most: ¶unit.stroke-turns",
            "no field 'stroke-turns'",
        ),
    ],
)
def test_what_a_step_cannot_say(lines: str, essence: str) -> None:
    lines = lines.replace("ask: yes-no", "ask: yes-no\n    go: {'yes': next, 'no': next}")
    assert_refused(steps(f"  - step: a\n    {lines}\n"), essence)


def test_what_an_answer_proves_must_be_after_one_of_its_outcomes() -> None:
    text = "  - ¶step: a\n    say: A?\n    ask: done\n    proves: {maybe: isolated}\n"
    assert_refused(steps(text), "no outcome 'maybe'")


def test_an_answer_in_place_of_a_number_leaves_no_number() -> None:
    text = """\
  - step: a
    say: How many?
    ask: number
    unit: turns
    called: [mark]
    instead: [none]
    least: 0
    most: 9
    into: turns
    go: {mark: tell, none: other}
  - step: tell
    say: It was {turns}.
    go: finish
  - step: other
    say: None.
"""
    load(steps(text))
    assert_refused(steps(text.replace("say: None.", "say: It was ¶{turns}.")), "may have no value")


def test_papers_are_known_from_the_first_step_on() -> None:
    text = steps("  - step: a\n    say: Order {order}.\n")
    program = load(text.replace("steps:", "papers: {order: letters}\nsteps:"))
    assert "order" in program.procedure.papers
    assert_refused(text.replace("steps:", "papers: {order: ¶words}\nsteps:"), "of no kind 'words'")


def test_facts_that_follow_from_acts_are_not_for_writers() -> None:
    for fact in (Fact.ROD_OUT, Fact.ENERGISED, Fact.MID_TRAVEL):
        text = f"  - step: a\n    say: A?\n    ask: done\n    proves: {{next: ¶{fact}}}\n"
        assert_refused(steps(text), "nothing known is called")
