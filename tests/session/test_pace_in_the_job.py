"""Counted turns between two marks give the speed of a shaft.

The limit of 200 rpm is common practice, no source; 10 turns in 2.9 s are 207 rpm (arithmetic).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from assistant.session.effects import Deviated, Say, Tick
from tests.session.job import TO_READING, Job
from tests.session.unclear import unclear
from tests.session.whole_job import at

NOT_YET = "one and two open three and four closed"


def at_turning() -> Job:
    return Job().say(*TO_READING, NOT_YET, "correct", "done")


def test_a_pace_is_given_below_the_limit() -> None:
    assert list(at_turning().all_of(Tick)) == [Tick(120.0)]


def test_the_pace_comes_before_the_words_so_that_a_mark_is_heard_at_once() -> None:
    effects = at_turning().effects
    told = [at for at, one in enumerate(effects) if isinstance(one, Say) and "Say mark" in one.text]
    assert effects.index(Tick(120.0)) < told[0]


@pytest.mark.parametrize(("seconds", "too_fast"), [(2.9, True), (3.0, False), (3.1, False)])
def test_ten_turns_are_too_fast_in_less_than_three_seconds(seconds: float, too_fast: bool) -> None:
    # Shortest honest time for n revolutions: n/200 min, common practice, no source.
    job = at_turning().say("mark").wait(seconds).say("mark ten turns", "correct")
    assert ("Too fast" in job.said) is too_fast
    assert ("two hundred and seven turns a minute" in job.said) is too_fast
    assert bool(job.all_of(Deviated)) is too_fast


def test_the_mark_counts_when_it_is_said_and_not_when_it_is_confirmed() -> None:
    job = at_turning().say("mark").wait(2.9).say("mark ten turns")
    assert "Too fast" in job.wait(30).say("correct").said
    job = at_turning().say("mark").wait(2.9).say("mark two turns")
    assert "Too fast" in job.wait(30).say("wrong, mark ten turns").wait(30).say("correct").said


@pytest.mark.parametrize("before", [("go back", "no"), ("hold", "carry on"), ("where am i",)])
def test_what_is_said_about_the_job_itself_begins_nothing(before: tuple[str, ...]) -> None:
    job = at_turning().say(*before).wait(300).say("mark").wait(2.9)
    assert "Too fast" in job.say("mark ten turns", "correct").said


def test_a_question_of_the_session_itself_does_not_move_the_moment() -> None:
    job = at_turning().say("mark").wait(2.9).say("mark ten turns", "go back", "no").wait(300)
    assert "Too fast" in job.say("correct").said


Happening = Callable[[Job], object]


def neither(job: Job) -> None:
    job.wait(2).say("no")


def hold(job: Job) -> None:
    job.say("hold").wait(300).say("carry on")


def restart(job: Job) -> None:
    job.wait(300).power_returns()


def long_silence(job: Job) -> None:
    job.wait(1200).say("mark", "yes", "yes")


def gone_back_in_doubt(job: Job) -> None:
    job.say("go back", "no")


@pytest.mark.parametrize("what", [neither, hold, restart, long_silence, gone_back_in_doubt])
def test_nothing_began_with_what_was_unclear_before_it(what: Happening) -> None:
    job = at_turning()
    unclear(job, "mark", "go back" if what is gone_back_in_doubt else "hold")
    what(job)
    job.wait(60).say("mark").wait(2.9).say("mark ten turns", "correct")
    assert "two hundred and seven turns a minute" in job.said


def test_which_of_two_it_was_is_told_later_and_was_said_before() -> None:
    job = at_turning()
    unclear(job, "mark", "hold").wait(3)
    job.say("say again", "mark").wait(2.9)
    job.say("mark ten turns", "correct")
    assert "Too fast" not in job.said  # ten turns in 5.9 s


def test_a_stroke_is_timed_from_the_mark_and_not_from_what_was_neither() -> None:
    job = at("test/open-start")
    unclear(job, "mark", "hold").wait(1).say("no").wait(20).say("mark").wait(30).say("mark")
    assert "The stroke took thirty seconds." in job.said


def test_across_going_back_no_pace_is_measured() -> None:
    """What was turned meanwhile nobody knows; it is not told to have been slow."""
    job = at_turning().say("mark").wait(3).say("mark nine turns", "correct").wait(300)
    job.say("go back", "yes").wait(3).say("mark thirty turns", "correct")
    assert not job.all_of(Deviated)
    assert not any("minute" in text for text in job.said.split(".")[:1])


def test_across_a_silence_of_which_nobody_knows_how_long_it_was_no_pace_is_measured() -> None:
    job = at_turning().say("mark").wait(-700).say("mark ten turns", "yes", "yes")
    assert "Turn the open shaft" in job.said
    assert "Too fast" not in job.wait(702).say("mark ten turns", "correct").said


def test_more_turns_than_a_cycle_has_hold_the_job() -> None:
    # The sheet of KF-07 knows the cycle: 55 revolutions (invented).
    job = at_turning().say("mark").wait(60).say("mark fifty eight", "correct")
    assert job.held
    assert "One cycle is fifty five revolutions" in job.said


def test_no_change_over_within_a_cycle_holds_the_job() -> None:
    job = at_turning().say("mark").wait(60).say("none")
    assert job.held
    assert "No change-over that far" in job.said
