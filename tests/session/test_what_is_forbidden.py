"""What is forbidden is refused with the reason, and asked for before the job goes on.

Rules: common practice for rod and shafts; 29 CFR 1910.147(d) for isolation; DOE-HDBK-1028-2009
vol 2 (from memory) for skipping and for stopping when unsure.
"""

from __future__ import annotations

import pytest

from assistant.procedure.deeds import ActKind, Fact, after, missing, proved
from assistant.session.effects import Held, HoldClosed, Proved, Skipped, WentBack
from tests.session.job import TO_READING, Job

NOT_YET = "one and two open three and four closed"
PAST = "one and two closed three and four open"
ROD_IS_OUT = (*TO_READING, NOT_YET, "correct")


@pytest.mark.parametrize(
    "act", [ActKind.CRANK, ActKind.CRANK_TO_STOP, ActKind.CRANK_SLOWLY, ActKind.CRANK_TO_MIDDLE]
)
def test_nobody_cranks_with_the_rod_out_or_before_the_shafts_were_tried(act: ActKind) -> None:
    known = proved([Fact.ISOLATED, Fact.RODS_ENGAGED], frozenset())
    assert missing(act, known) == ()
    known = after(ActKind.DISENGAGE, known)
    assert Fact.RODS_ENGAGED in missing(act, known)
    known = after(ActKind.ENGAGE, known)
    assert Fact.RODS_ENGAGED in missing(act, known)
    assert missing(act, proved([Fact.RODS_ENGAGED], known)) == ()


def test_nobody_energises_before_the_gate_or_strokes_before_the_rotation_is_right() -> None:
    gate = [Fact.RODS_ENGAGED, Fact.MID_TRAVEL, Fact.PEOPLE_CLEAR, Fact.PERMITTED]
    for left_out in gate:
        known = frozenset(gate) - {left_out}
        assert missing(ActKind.ENERGISE, known) == (left_out,)
    live = after(ActKind.ENERGISE, frozenset(gate) | {Fact.ISOLATED})
    assert Fact.ISOLATED not in live
    assert missing(ActKind.STROKE, live) == (Fact.ROTATION_RIGHT,)
    assert Fact.ISOLATED in missing(ActKind.CRANK, live)


def test_going_back_over_the_rod_does_not_let_the_valve_be_cranked() -> None:
    job = Job().say(*ROD_IS_OUT)
    job.say("go back", "yes")
    assert "setting rod may be pressed in" in job.said
    assert list(job.all_of(WentBack))
    # The question before had the valve cranked: with the rod out that is refused.
    assert "let it come fully out. Then try to turn every shaft" in job.said
    assert "crank" not in job.said.casefold()
    job.say("yes")
    assert list(job.all_of(Proved)) == [Proved(Fact.RODS_ENGAGED)]
    assert "If it was cranked, crank back one turn toward open" in job.said
    assert "Crank back one turn toward closed" in job.said
    assert job.session.step == "open-end/read"


def test_what_is_missing_and_not_done_holds_the_job_and_is_asked_again() -> None:
    job = Job().say(*ROD_IS_OUT, "go back", "yes", "no")
    assert job.held
    job.say("carry on")
    assert "let it come fully out. Then try to turn every shaft" in job.said


def test_nothing_is_cranked_back_before_a_crank_to_the_stop() -> None:
    """That begins at least one turn away from it: common practice, no source."""
    job = Job().say(*TO_READING, "go back", "yes")
    assert "From at least one turn away, crank to the open stop" in job.said
    assert "crank back" not in job.said


@pytest.mark.parametrize("at", range(len(ROD_IS_OUT)))
def test_no_step_that_decides_something_can_be_skipped(at: int) -> None:
    job = Job().say(*ROD_IS_OUT[:at])
    before = job.listen
    job.say("skip this step")
    assert "cannot be skipped" in job.said
    assert not job.all_of(Skipped)
    assert job.listen == before


def test_after_a_short_break_the_job_goes_on_at_once() -> None:
    job = Job().say(*TO_READING, "hold").wait(60).say("carry on")
    assert "stand as you left them" not in job.said
    assert job.session.step == "open-end/read"


@pytest.mark.parametrize("minutes", [11, 3 * 24 * 60])
def test_after_a_long_break_position_isolation_and_shafts_are_checked_again(minutes: int) -> None:
    job = Job().say(*TO_READING, "hold").wait(60 * minutes).say("carry on")
    assert "do valve, rod and shafts stand as you left them?" in job.said
    job.say("yes")
    assert "proved dead?" in job.said
    job.say("yes")
    assert "shafts are not proved locked" in job.said
    job.say("yes")
    assert "If it is not done yet: Crank back one turn toward closed" in job.said
    assert job.say(PAST, "correct").session.step == "open-end/disengage"


def test_after_a_power_cut_of_days_the_same_is_checked() -> None:
    job = Job().say(*TO_READING).wait(86400).power_returns()
    assert "do valve, rod and shafts stand as you left them?" in job.said


def test_what_was_moved_meanwhile_holds_the_job() -> None:
    job = Job().say(*TO_READING, "hold").wait(3600).say("carry on", "no")
    assert job.held
    assert "Put the valve, the rod and the shafts back" in job.said


def test_a_hold_of_the_procedure_is_closed_with_a_reason_and_a_name() -> None:
    job = Job().say("no")
    assert job.held
    job.say("carry on")
    assert "Say what was found" in job.said
    assert not job.all_of(HoldClosed)
    job.silence()
    assert not job.all_of(HoldClosed)
    job.say("the breaker was racked in and is out now")
    assert not job.all_of(HoldClosed)
    job.say("yes", "technician")
    assert list(job.all_of(HoldClosed)) == [
        HoldClosed("Shut down, isolate, lock and tag the motor supply first.", "technician")
    ]
    assert job.session.step == "isolation/supplies/motor-supply"


def test_a_hold_of_the_procedure_is_not_left_by_going_back() -> None:
    job = Job().say("yes", "no")
    assert job.held
    job.say("go back")
    assert job.session.held
    assert "Not from this hold" in job.said


@pytest.mark.parametrize("reply", ["correct", "yes", "wrong", "technician correct"])
def test_only_the_second_checker_answers_for_the_second_checker(reply: str) -> None:
    # Concurrent verification, DOE-STD-1036-93: the second person says the own role word first.
    job = Job().say("yes", "yes", "locked off", "yes", "yes")
    assert job.session.step == "isolation/dead-checked"
    job.say(reply)
    assert job.session.step == "isolation/dead-checked"
    assert not job.confirmed
    assert job.say("checker correct").session.step == "isolation/people/people"


def test_a_checker_who_does_not_agree_holds_the_job() -> None:
    job = Job().say("yes", "yes", "locked off", "yes", "yes", "checker wrong")
    assert [effect.reason for effect in job.all_of(Held) if isinstance(effect, Held)]


def test_after_days_on_a_hold_of_the_procedure_nothing_that_was_proved_counts() -> None:
    job = Job().say(*TO_READING, "one closed two open three and four open", "correct")
    job.say("one closed two open three and four open", "correct")
    assert job.held
    assert Fact.RODS_ENGAGED in job.session.known
    job.wait(3 * 86400).say("carry on", "a contact was dirty", "yes", "technician")
    assert job.session.known == frozenset()
    assert job.say(NOT_YET, "correct").listen.aside == "restore"
    assert "proved dead?" in job.said


def test_what_was_restored_before_a_long_break_is_asked_for_again() -> None:
    job = Job().say(*TO_READING, "hold").wait(3600).say("carry on", "yes", "yes")
    assert "shafts are not proved locked" in job.said
    job.say("hold").wait(3600).say("carry on", "yes")
    assert "proved dead?" in job.said


def test_what_an_answer_proved_goes_with_it_and_nothing_else() -> None:
    job = Job().say(*TO_READING)
    assert job.session.known == {Fact.ISOLATED, Fact.RODS_ENGAGED}
    while job.session.step != "isolation/people/people":
        before = job.session.known
        job.say("go back", "yes")
    assert before == {Fact.ISOLATED}
    assert job.say("go back", "yes").session.step == "isolation/dead-checked"
    assert job.session.known == frozenset()
