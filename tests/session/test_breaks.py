"""A long break: what is asked after it, wherever it falls, and what is none.

That hands go in only where it is known to be dead: 29 CFR 1910.147(d). The rest is common practice,
no source.
"""

from __future__ import annotations

import pytest

from assistant.procedure.deeds import Fact
from assistant.session.effects import Confirmed, Listen
from tests.session.job import Job
from tests.session.unclear import unclear
from tests.session.whole_job import at

LONG = 900.0
"""Seconds: a long break, and not too long for work that was asked for."""

DEAD = "Not proved dead. Is the supply isolated, locked, and proved dead?"
AS_LEFT = "do valve, rod and shafts stand as you left them?"


def aside(job: Job) -> str:
    (listen,) = (one for one in job.effects if isinstance(one, Listen))
    return listen.aside


def after_hold(step: str) -> Job:
    return at(step).say("hold").wait(LONG).say("carry on")


@pytest.mark.parametrize("step", ["test/lock-off/lock-off", "test/open-stop", "test/jog"])
def test_no_cover_is_taken_off_and_no_shaft_tried_before_it_is_known_to_be_dead(step: str) -> None:
    job = after_hold(step)
    for _ in range(4):
        if Fact.ISOLATED in job.session.known:
            break
        assert "cover off" not in job.said.casefold()
        assert "by hand" not in job.said
        job.say("yes")
    assert Fact.ISOLATED in job.session.known


def test_what_a_first_break_voided_is_asked_for_after_a_second_one() -> None:
    job = after_hold("open-end/set/check-left").say("yes")
    assert job.said == DEAD
    job.say("hold").wait(LONG).say("carry on", "yes")
    assert job.said == DEAD


def test_so_it_is_where_nobody_told_how_the_valve_stands() -> None:
    job = after_hold("open-end/set/check-left").silence(3)
    assert job.session.held
    job.wait(LONG).say("carry on", "yes")
    assert job.said == DEAD


def test_who_is_sent_to_lock_off_may_take_longer_than_a_break() -> None:
    job = after_hold("open-end/set/check-left").say("yes").wait(LONG).say("yes")
    assert Fact.ISOLATED in job.session.known


@pytest.mark.parametrize("step", ["finish/locks", "finish/sign-checker", "finish/sign-technician"])
def test_nothing_is_tried_by_hand_once_the_supplies_are_back(step: str) -> None:
    job = after_hold(step)
    assert AS_LEFT in job.said
    job.say("yes")
    assert aside(job) == ""
    assert job.session.step == step


def test_after_long_cranking_the_next_answers_count_too() -> None:
    job = at("find/crank-on").wait(599).silence().wait(210).say("mark five turns", "correct")
    job.wait(10).say("one closed two open three closed four open")
    assert "Nobody was heard" not in job.said


@pytest.mark.parametrize(
    ("step", "seconds"), [("prove-open/before", 8 * 3600.0), ("find/crank-on", -3600.0)]
)
def test_no_work_takes_for_ever(step: str, seconds: float) -> None:
    job = at(step).wait(seconds).say("all four closed" if "before" in step else "mark five turns")
    assert aside(job) == "as-left"


def test_who_puts_the_valve_back_is_told_to_prove_dead_before() -> None:
    job = after_hold("test/open-stop").say("no")
    assert "Prove dead before you reach in." in job.said


@pytest.mark.parametrize("read_back", [False, True])
def test_no_reading_is_put_together_from_before_and_after_a_break(read_back: bool) -> None:
    job = at("open-end/set/read").say("one and two closed")
    if read_back:
        job.say("three and four open")
    job.say("hold").wait(LONG).say("carry on", "yes", "yes", "yes")
    assert job.said.endswith("Read contacts one, two, three and four.")
    job.say("three and four open")
    assert not any(isinstance(effect, Confirmed) for effect in job.effects)
    assert job.said == "And one and two?"


def test_an_unclear_reply_after_a_long_silence_is_no_reading_either() -> None:
    job = at("open-end/set/read").wait(2000)
    unclear(job, "one and two closed three and four open", "one and two closed three open")
    assert aside(job) == "as-left"


def test_a_long_hold_of_the_procedure_is_asked_about_before_it_goes_on() -> None:
    job = at("open-end/set/turn").say("none")
    assert job.session.held
    job.wait(3600).say("carry on", "somebody had to leave", "yes", "technician")
    assert AS_LEFT in job.said
    job.say("yes")
    assert job.said == DEAD
    job.say("yes")
    assert aside(job) == ""
    assert job.said.endswith("Read contacts one, two, three and four again.")


def test_going_back_from_there_leads_to_the_question_before_the_hold() -> None:
    job = at("open-end/set/turn").say("none").wait(3600)
    job.say("carry on", "somebody had to leave", "yes", "technician", "yes", "yes")
    step = job.session.step
    job.say("go back", "yes")
    assert job.session.step != step


CONTRADICTION = ("one closed two three and four open", "correct")


def asked_whether_it_is_dead() -> Job:
    """Behind a hold of the procedure, after a long break in it."""
    job = at("open-end/set/read").say(*CONTRADICTION, *CONTRADICTION).wait(LONG)
    job.say("carry on", "checked the drawing", "yes", "technician", "yes")
    assert job.said == DEAD
    return job


def test_what_is_not_dead_is_asked_for_again_after_a_break() -> None:
    job = asked_whether_it_is_dead().say("no").wait(LONG).say("carry on")
    assert AS_LEFT in job.said
    assert job.say("yes").said == DEAD
    job.say("yes", "yes")
    assert job.session.known == {Fact.ISOLATED, Fact.RODS_ENGAGED}
    assert job.session.step == "open-end/set/read-again"


def test_so_it_is_where_the_program_stopped_meanwhile() -> None:
    job = asked_whether_it_is_dead().wait(LONG).power_returns()
    assert AS_LEFT in job.said
    assert job.say("yes").said == DEAD


@pytest.mark.parametrize("restarted", [False, True])
@pytest.mark.parametrize(
    "closing", [("found it",), ("found it", "yes"), ("found it", "go back", "found it")]
)
def test_a_restart_while_a_hold_is_closed_does_not_end_the_break(
    closing: tuple[str, ...], restarted: bool
) -> None:
    job = at("open-end/set/turn").say("none", "carry on", *closing).wait(3600)
    if restarted:
        job.power_returns()
    job.say(*(("yes", "technician") if aside(job) == "reason" else ("technician",)))
    assert AS_LEFT in job.said
    assert job.say("yes").said == DEAD


@pytest.mark.parametrize("restarted", [False, True])
def test_nor_does_one_while_it_is_asked_whether_to_go_back_from_it(restarted: bool) -> None:
    job = at("open-end/set/begin").say("hold", "go back").wait(3600)
    if restarted:
        job.power_returns()
    job.say("yes")
    assert job.session.held
    assert AS_LEFT in job.say("carry on").said


def test_a_hold_that_became_long_before_going_back_was_agreed_on_was_a_break() -> None:
    job = at("open-end/set/begin").say("hold").wait(590).say("go back").wait(300).say("yes")
    assert job.said.startswith("The break comes first.")
    assert aside(job) == "as-left"
