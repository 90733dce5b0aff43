"""What a procedure file may hold: this project's own format. Each sample breaks one rule."""

from __future__ import annotations

import pytest

from tests.procedure.refusals import END, HEAD, assert_refused, load, steps


@pytest.mark.parametrize(
    ("sample", "essence"),
    [
        ("¶- a\n- b\n", "a procedure must be made of lines"),
        ("¶title: A\nrevision: A\nabout: x\nsteps: []\n", "needs 'procedure:'"),
        (HEAD.replace("sample", "¶Sample One", 1) + "steps: []\n", "lower case"),
        ("¶" + HEAD, "needs 'steps:'"),
        ("¶" + HEAD.replace("revision: A\n", "") + f"steps:\n{END}", "needs 'revision:'"),
        (HEAD.replace("title", "¶titel") + f"steps:\n{END}", "no field 'titel'; did you mean"),
        (HEAD.replace(": A\n", ": ¶[A]\n", 1) + f"steps:\n{END}", "'revision' must be a text"),
        (HEAD.replace(": A\n", ": ¶''\n", 1) + f"steps:\n{END}", "'revision' is empty"),
        (f"{HEAD}steps: ¶[]\n", "no step"),
        (f"{HEAD}steps: ¶none\n", "must be a list"),
        (f"{HEAD}¶step: none\nsteps:\n{END}", "no field 'step'; did you mean 'steps'?"),
        (f"{HEAD}¶inputs: {{rotor: rotor}}\nsteps:\n{END}", "no field 'inputs'"),
        (HEAD + "¶procedure: twice\n", "stands twice, first in line 1"),
        (f"{HEAD}parts: {{a: ¶[x]}}\nsteps:\n{END}", "must be a text"),
    ],
)
def test_the_head_of_a_file(sample: str, essence: str) -> None:
    assert_refused(sample, essence)


@pytest.mark.parametrize(
    ("sample", "essence"),
    [
        ("  - ¶just words\n", "a step must be made of lines"),
        ("  - ¶say: Hello.\n", "needs 'step:'"),
        ("  - step: ¶Two words\n    say: Hello.\n", "lower case"),
        ("  - step: ¶next\n    say: Hello.\n", "a way to go on"),
        ("  - step: a\n    ¶sya: Hello.\n", "did you mean 'say'?"),
        ("  - step: a\n    say: Hello.\n    ¶brnch: unit.seating\n", "did you mean 'branch'?"),
        ("  - ¶step: a\n    ask: done\n", "needs 'say:'"),
        ("  - ¶step: a\n", "tells nothing"),
        ("  - ¶step: a\n    say: Hi.\n    ask: done\n    hold: Wait.\n", "one a step"),
        ("  - step: a\n    say: Hi.\n  - ¶step: a\n    say: Ho.\n", "the first in line 6"),
        ("  - step: a\n    say: Hi.\n    ask: ¶doen\n", "did you mean 'done'?"),
        ("  - step: a\n    say: Hi.\n    ask: done\n    ¶choices: [a, b]\n", "no field 'choices'"),
        ("  - ¶step: a\n    say: Hi.\n    ask: contacts\n    into: x\n", "needs 'of:'"),
        ("  - step: a\n    say: Hi.\n    end: ¶later\n", "end: job"),
        ("  - step: a\n    say: Hi.\n    end: job\n    ¶go: a\n", "the job ends here"),
        ("  - step: a\n    hold: Wait.\n    ¶record: {a: unit.tag}\n", "nothing is recorded"),
        ("  - step: a\n    say: Turn {unit.tag.\n".replace("{", "¶{"), "close it"),
        ("  - step: a\n    say: ¶Turn unit.tag}.\n", "remove it"),
        ("  - step: a\n    say: Turn ¶{}.\n", "no name"),
        ("  - step: a\n    say: ¶{a: b}\n", "put quotes round it"),
        ("  - step: a\n    say: >\n      Hello\n      there, ¶{Unit}.\n", "no name"),
    ],
)
def test_a_step(sample: str, essence: str) -> None:
    assert_refused(steps(sample), essence)


@pytest.mark.parametrize(
    "lines",
    [
        "say: Is valve ¶#7 shut?",
        "say: Is the valve\n      of loop ¶#7 shut?",
        "say: Is valve\n      ¶#7 shut?",
        "say:\n      Is valve\n      ¶#7 shut?",
        "say: It stands.\n    warning: Stay clear of pump\t¶#2, it starts by itself.",
        "say: It stands.\n    caution: [Oil., Pump ¶#2.\n      ]",
        "say: It stands.\n    deviation: Pump ¶#2 was not dead.",
        "hold: Isolate supply ¶#2 again. Keep your hands out.",
    ],
)
def test_a_text_that_a_comment_cuts_off(lines: str) -> None:
    assert_refused(steps(f"  - step: a\n    {lines}\n"), "the text ends at '#'")


def test_a_head_that_a_comment_cuts_off() -> None:
    end = f"steps:\n{END}"
    assert_refused(HEAD.replace("A sample.", "Pump ¶#2.") + end, "'about': the text ends at '#'")
    assert_refused(HEAD.replace("A sample\n", "Pump ¶#2\n") + end, "'title': the text ends at '#'")


@pytest.mark.parametrize(
    "lines",
    [
        'say: "Is valve #7 shut?"  # the one below',
        "say: >\n      Is valve #7\n      shut?",
        "say: Is valve#7 shut?\n    # of the second loop",
        "say: Crank it, then wait. # allow one-action: the two are one motion",
        "say: It is shut.\n    go: finish  # the end",
        "warning:\n      - Hands.\n      # and then\n      - Eyes.",
    ],
)
def test_a_comment_that_cuts_off_no_text(lines: str) -> None:
    load(steps(f"  - step: a\n    {lines}\n"))


@pytest.mark.parametrize(
    ("lines", "essence"),
    [
        ("choices: ¶word", "must be a list"),
        ("choices: ¶[one]", "two or more"),
        ("choices: ¶[one, one]", "two or more"),
        ("choices: [one, ¶Two Words]", "lower case"),
        ("choices: ¶[next, last]", "a way to go on"),
        ("choices: ¶[help, other]", "the command 'help'"),
        ("choices: ¶[hold-it, other]", "the command 'hold it'"),
        ("choices: ¶[rotor-2, rotor-two]", "the choice 'rotor-2'"),
    ],
)
def test_choices_must_be_told_apart_and_from_the_commands(lines: str, essence: str) -> None:
    assert_refused(steps(f"  - step: a\n    say: Which?\n    ask: choice\n    {lines}\n"), essence)


@pytest.mark.parametrize(
    ("lines", "essence"),
    [
        ("unit: turns, least: ¶5, most: 5", "'least' must be below 'most', 5"),
        ("unit: turns, least: ¶6, most: 5", "'least' must be below 'most', 5"),
        ("unit: turns, least: ¶few, most: 5", "'least' must be a number"),
        (
            "unit: degrees, least: ¶-40, most: -5",
            "'least' is -40, but numbers from 0 to 999 can be",
        ),
        ("unit: degrees, least: 0, most: ¶-5", "'most' is -5, but numbers from 0 to 999 can be"),
        ("unit: rpm, least: ¶1000, most: 3000", "'least' is 1000, but numbers from 0 to 999 can"),
        ("unit: rpm, least: 0, most: ¶3000", "'most' is 3000, but numbers from 0 to 999 can be"),
        ("unit: turns, least: ¶1000, most: unit.most-turns", "'least' is 1000, but numbers"),
        ("unit: ¶furlongs, least: 0, most: 5", "no words for the unit 'furlongs'"),
    ],
)
def test_a_number_is_asked_in_a_known_unit_and_between_bounds(lines: str, essence: str) -> None:
    fields = "".join(f"    {line}\n" for line in lines.split(", "))
    assert_refused(steps(f"  - step: a\n    say: How many?\n    ask: number\n{fields}"), essence)


def test_a_number_without_bounds_is_refused_at_its_step() -> None:
    sample = "  - ¶step: a\n    say: How many?\n    ask: number\n    unit: turns\n"
    assert_refused(steps(sample), "needs 'least:'")


@pytest.mark.parametrize(
    ("act", "essence"),
    [
        ("¶dance", "no act is called 'dance'; acts are only what is done to the valve (crank"),
        ("¶unscrew", "lock-off, restore-supplies): remove 'does:' where something else is done"),
        ("¶disengaged", "did you mean 'disengage'?"),
        ("¶crank", "must be told turns, toward"),
        ("¶disengage: {toward: unit.tag}", "must be told nothing"),
        ("crank-to-stop: {toward: ¶Rotor}", "no name"),
        ("¶engage: {}\n        try-shafts: {}", "one act an item"),
    ],
)
def test_an_act(act: str, essence: str) -> None:
    assert_refused(
        steps(f"  - step: a\n    say: Do it.\n    does:\n      - {act}\n    ask: done\n"), essence
    )


@pytest.mark.parametrize(
    ("lines", "essence"),
    [
        ("compute: ¶shaft-directoin", "did you mean 'shaft-direction'?"),
        ("compute: compare-readings\n    ¶from: {expected: a}", "with expected, reading"),
        (
            "compute: compare-readings\n    from: {expected: a, reading: a}\n    ¶into: x",
            "has no result: remove 'into:'",
        ),
        ("repeat: finish\n    otherwise: finish\n    at-most: ¶0", "from 1 to 20"),
        ("repeat: finish\n    otherwise: finish\n    at-most: ¶1.5", "from 1 to 20, not '1.5'"),
        ("repeat: finish\n    otherwise: finish\n    at-most: ¶two", "from 1 to 20, not 'two'"),
        ("repeat: finish\n    otherwise: finish\n    at-most: ¶1e999", "from 1 to 20"),
        ("repeat: finish\n    at-most: 1\n    ¶otherwize: finish", "did you mean 'otherwise'?"),
        ("repeat: finish\n    at-most: 1\n    otherwise: finish\n    ¶go: finish", "remove 'go:'"),
    ],
)
def test_what_a_step_computes_and_repeats(lines: str, essence: str) -> None:
    assert_refused(steps(f"  - step: a\n    {lines}\n"), essence)


def test_a_result_must_be_given_a_name() -> None:
    lines = "compute: shaft-direction\n    from: {rotor: a, seen: a, reading: a}"
    assert_refused(steps(f"  - ¶step: a\n    {lines}\n"), "'shaft-direction' needs 'into:'")


def test_all_wrong_steps_are_told_at_once_in_the_order_of_the_file() -> None:
    sample = "  - ¶step: b\n  - step: a\n    ask: ¶doen\n    say: Hi.\n  - ¶words\n"
    assert_refused(steps(sample), "tells nothing", "'doen'", "lines")


def test_people_come_before_equipment_whatever_the_order_of_the_lines() -> None:
    program = load(steps("  - step: a\n    caution: Gears.\n    warning: [Hands., Eyes.]\n"))
    notices = program.nodes["a"].step.notices
    assert [(notice.kind.value, notice.text.pieces) for notice in notices] == [
        ("warning", ("Hands.",)),
        ("warning", ("Eyes.",)),
        ("caution", ("Gears.",)),
    ]


def test_yes_and_no_need_no_quotes_as_outcomes() -> None:
    sample = "  - step: a\n    say: Ready?\n    ask: yes-no\n    go: {yes: finish, no: b}\n"
    program = load(steps(f"{sample}  - step: b\n    hold: Wait.\n    go: a\n"))
    assert program.nodes["a"].targets == {"yes": "finish", "no": "b"}
