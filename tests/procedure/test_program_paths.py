"""The ways through a joined program. Every loop has a limit [DOE-STD-1029-92, from memory]."""

from __future__ import annotations

import time

import pytest

from assistant.procedure.join import LARGEST_PROGRAM
from tests.procedure.refusals import HEAD, MAIN, assert_refused, load, part, steps

YES_NO = "  - {sign}step: {name}\n    say: Ok?\n    ask: yes-no\n    go: {{yes: {yes}, no: {no}}}\n"


def yes_no(name: str, yes: str, no: str, sign: str = "") -> str:
    return YES_NO.format(name=name, yes=yes, no=no, sign=sign)


def test_a_step_that_is_never_reached() -> None:
    sample = "  - step: a\n    say: Hi.\n    go: finish\n  - ¶step: b\n    say: Ho.\n"
    assert_refused(steps(sample), "'b' is never reached")


def test_a_step_that_only_an_unreached_step_goes_to() -> None:
    sample = "  - step: a\n    say: Hi.\n    go: finish\n  - ¶step: b\n    say: {rotor.name}\n"
    sample = sample.replace("{rotor.name}", "Ho.") + "  - ¶step: c\n    say: He.\n"
    assert_refused(steps(sample), "'b' is never", "'c' is never")


def test_a_question_that_is_asked_again_without_end() -> None:
    sample = yes_no("a", "finish", "a", "¶")
    assert_refused(steps(sample), "the loop a → a has no limit")


def test_a_loop_over_several_steps_is_told_in_the_order_in_which_it_runs() -> None:
    tell = "  - step: {}\n    say: Hi.\n"
    sample = tell.format("z") + tell.format("a").replace("step", "¶step") + tell.format("x")
    assert_refused(
        steps(sample + yes_no("b", "finish", "a")), "the loop a → x → b → a has no limit"
    )


def test_a_repeat_whose_way_out_leads_back_into_the_loop() -> None:
    sample = (
        f"{yes_no('a', 'finish', 'r', '¶')}"
        "  - step: r\n    repeat: a\n    at-most: 2\n    otherwise: a\n"
    )
    assert_refused(steps(sample), "the loop a → r → a has no limit")


def test_a_loop_through_two_repeats_that_hand_over_to_each_other() -> None:
    sample = (
        f"{yes_no('a', 'finish', 'r')}"
        "  - ¶step: r\n    repeat: a\n    at-most: 2\n    otherwise: s\n"
        "  - step: s\n    repeat: a\n    at-most: 2\n    otherwise: r\n"
    )
    assert_refused(steps(sample), "the loop r → s → r has no limit")


def test_a_repeat_with_a_limit_and_a_hold_are_no_endless_loops() -> None:
    sample = (
        f"{yes_no('a', 'finish', 'r')}"
        "  - step: r\n    repeat: a\n    at-most: 2\n    otherwise: h\n"
        "  - step: h\n    hold: Find out why.\n    go: a\n"
    )
    assert load(steps(sample)).nodes["r"].targets == {"again": "a", "otherwise": "h"}


def test_steps_that_cannot_lead_to_the_end() -> None:
    sample = (
        f"{yes_no('a', 'finish', 'h')}"
        "  - ¶step: h\n    hold: Wait.\n"
        "  - ¶step: i\n    hold: Wait.\n    go: h\n"
    )
    assert_refused(steps(sample), "'h' can never lead", "'i' can never lead")


def test_a_loop_in_a_part_is_told_once_however_often_it_is_called() -> None:
    call = "  - step: {0}\n    call: p\n    with: {{rotor: open}}\n"
    main = steps(call.format("x") + call.format("y")).replace(
        "steps:", "parts: {p: p.yaml}\nsteps:"
    )
    assert_refused({MAIN: main, "p.yaml": part(yes_no("a", "return", "a", "¶"))}, "a → a")


@pytest.mark.parametrize("count", [LARGEST_PROGRAM - 1])
def test_the_longest_program_is_checked_in_two_seconds(count: int) -> None:
    tell = "".join(f"  - step: s{number}\n    say: Hi.\n" for number in range(count))
    begun = time.perf_counter()
    assert len(load(steps(tell)).nodes) == LARGEST_PROGRAM
    assert time.perf_counter() - begun < 2


def test_a_longer_program_is_refused_at_the_first_step_too_many() -> None:
    tell = "".join(f"  - step: s{number}\n    say: Hi.\n" for number in range(LARGEST_PROGRAM))
    assert_refused(f"{HEAD}steps:\n{tell}  - ¶step: e\n    say: Hi.\n    end: job\n", "2000")
