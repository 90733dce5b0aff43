"""A log played again on a changed procedure, and jumps."""

from __future__ import annotations

import pytest

from assistant.language.recognition import Recognition
from assistant.procedure.program import Program
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.following import follow
from assistant.rehearsal.handling import read_handling
from assistant.rehearsal.jumping import StepError, find_step, jump
from assistant.rehearsal.picture import looked
from assistant.rehearsal.rehearsal import Rehearsal
from tests.rehearsal.jobs import bench, small
from tests.session.job import kf

FIRST = "  - {step: first, say: Is it so?, ask: yes-no, go: {'yes': second, 'no': second}}\n"
SECOND = "  - {step: second, say: Which?, ask: choice, choices: [locked, moved]}\n"
THIRD = "  - {step: third, say: Say done., ask: done}\n"
END = "  - {step: end, say: Over., end: job}\n"
INSERTED = "  - {step: between, say: And this?, ask: yes-no, go: {'yes': next, 'no': next}}\n"


def on(program: Program) -> Bench:
    return Bench(program, None, {})


def typed(rehearsal: Rehearsal, *lines: str) -> Rehearsal:
    for line in lines:
        assert rehearsal.listen is not None
        rehearsal.hear(Recognition(line, rehearsal.listen.grammar.parse(line), 1.0, 0.0, "typed"))
    return rehearsal


def at_third() -> Rehearsal:
    rehearsal = typed(Rehearsal(on(small(FIRST + SECOND + THIRD + END))), "no", "moved")
    assert rehearsal.session.step == "third"
    return rehearsal


def test_an_unchanged_procedure_is_followed_to_the_same_place_and_the_same_rig() -> None:
    rehearsal = Rehearsal(bench())
    while rehearsal.session.step != "open-end/turn":
        rehearsal.answer()
    rehearsal.handle(read_handling(["turn-shaft", "open", "clockwise", "2.5"], kf("07")))
    rehearsal.silence()
    rehearsal.come_back(900)
    followed = follow(bench(), rehearsal.log)
    assert list(followed.notes()) == []
    assert followed.rehearsal.asked == rehearsal.asked
    one, other = rehearsal.technician.rig, followed.rehearsal.technician.rig
    assert one is not None
    assert other is not None
    assert looked(one) == looked(other)


def test_a_read_back_that_is_open_stays_open() -> None:
    rehearsal = Rehearsal(bench())
    while rehearsal.session.step != "open-end/read":
        rehearsal.answer()
    typed(rehearsal, "one and two closed three and four open")
    assert rehearsal.asked is not None
    assert rehearsal.asked[3]
    assert follow(bench(), rehearsal.log).rehearsal.asked == rehearsal.asked


def test_a_step_put_in_before_the_place_is_answered_and_told_and_the_place_is_kept() -> None:
    changed = small(FIRST.replace("second", "between") + INSERTED + SECOND + THIRD + END)
    followed = follow(on(changed), at_third().log, "third")
    assert followed.rehearsal.session.step == "third"
    assert followed.new == ["between"]
    assert "between" in next(followed.notes())


def test_a_step_put_in_at_the_place_is_where_one_stands() -> None:
    followed = follow(on(small(FIRST + SECOND + INSERTED + THIRD + END)), at_third().log, "third")
    assert followed.rehearsal.session.step == "between"
    assert list(followed.notes()) == []


def test_a_step_taken_out_is_left_out_and_told() -> None:
    changed = small(FIRST.replace("second", "third") + THIRD + END)
    followed = follow(on(changed), at_third().log, "third")
    assert followed.rehearsal.session.step == "third"
    assert followed.left_out == ["second"]


def test_a_step_that_asks_otherwise_is_answered_anew_and_told() -> None:
    changed = small(FIRST + SECOND.replace("[locked, moved]", "[open, closed]") + THIRD + END)
    followed = follow(on(changed), at_third().log, "third")
    assert followed.rehearsal.session.step == "third"
    assert followed.changed == ["second"]


def test_the_answers_themselves_are_kept() -> None:
    way = FIRST.replace("'no': second", "'no': third")
    followed = follow(on(small(way + SECOND + THIRD + END)), at_third().log, "third")
    # It was answered no, and no leads past the second step now.
    assert followed.rehearsal.session.step == "third"
    assert followed.left_out == ["second"]


def test_a_renamed_place_is_told_by_where_one_stands() -> None:
    followed = follow(
        on(small(FIRST + SECOND + THIRD.replace("third", "last") + END)), at_third().log, "third"
    )
    assert followed.rehearsal.session.step == "last"


def test_a_jump_plays_what_lies_before_and_tells_what_was_only_taken() -> None:
    way = jump(Rehearsal(on(small(FIRST + SECOND + THIRD + END))), "third")
    assert way is not None
    assert way.rehearsal.session.step == "third"
    assert [step for step, _ in way.answered] == ["first", "second"]
    assert [step for step, _ in way.taken] == ["first", "second"]


def test_a_jump_forward_keeps_what_was_answered_and_the_rehearsal_that_was_left() -> None:
    rehearsal = typed(Rehearsal(bench()), "yes")
    before = rehearsal.session.step
    way = jump(rehearsal, "open-end/read")
    assert way is not None
    assert not way.from_start
    assert "isolation/supplies/motor-supply" not in [step for step, _ in way.answered]
    assert way.rehearsal.session.step == "open-end/read"
    assert rehearsal.session.step == before


def test_a_jump_back_begins_anew() -> None:
    rehearsal = Rehearsal(bench())
    while rehearsal.session.step != "open-end/read":
        rehearsal.answer()
    way = jump(rehearsal, "identity/tag")
    assert way is not None
    assert way.from_start
    assert way.rehearsal.session.step == "identity/tag"


def test_where_the_rig_does_not_lead_there_is_no_jump() -> None:
    assert jump(Rehearsal(bench()), "open-end/cannot-engage") is None


def test_a_step_is_found_by_the_end_of_its_name_if_only_one_has_it() -> None:
    steps = bench().program.nodes
    assert find_step("tag", steps) == "identity/tag"
    assert find_step("read", steps, here="closed-end/turn") == "closed-end/read"
    with pytest.raises(StepError, match="several steps: open-end/read, closed-end/read"):
        find_step("read", steps)
    with pytest.raises(StepError, match="did you mean 'try-shafts'"):
        find_step("try-shaft", steps)
