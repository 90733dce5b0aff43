"""A warning or caution is said again with the question that it came with.

Source: a caution comes before the action that it is about, never without it (DOE-STD-1029-92,
from memory).
"""

from __future__ import annotations

import pytest

from assistant.session.effects import Say
from tests.session.job import TO_READING, Job

READING = ("one and two closed three and four open", "correct")
AT_BEGIN = (*TO_READING, *READING, "done")
LIMIT = "Caution. Never above two hundred turns a minute. The gears would break."
NOT_ENGAGED = (*AT_BEGIN, "mark", "mark twelve", "correct", "sound", "mark", *READING, "free")
WARNING = "Warning. Not engaged. Do not crank, do not energise."


def texts(job: Job) -> list[str]:
    return [effect.text for effect in job.effects if isinstance(effect, Say)]


@pytest.mark.parametrize(
    "words",
    ["say again", "where am i", "repeat contacts", "slower", "faster", "louder", "softer"],
)
@pytest.mark.parametrize(("at", "notice"), [(AT_BEGIN, LIMIT), (NOT_ENGAGED, WARNING)])
def test_what_is_asked_is_never_said_again_without_its_cautions(
    at: tuple[str, ...], notice: str, words: str
) -> None:
    job = Job().say(*at)
    assert notice in texts(job)
    *before, _question = texts(job.say(words))
    assert before[-1] == notice


def test_a_warning_of_a_step_that_only_tells_comes_again_after_a_hold() -> None:
    job = Job().say(*NOT_ENGAGED, "hold", "carry on")
    assert texts(job) == [
        "Carrying on.",
        WARNING,
        "Read contacts one, two, three and four again.",
    ]


def test_and_after_a_restart() -> None:
    job = Job().say(*NOT_ENGAGED).power_returns()
    assert texts(job)[1:] == [WARNING, "Read contacts one, two, three and four again."]


def test_and_after_a_note() -> None:
    job = Job().say(*NOT_ENGAGED, "take a note", "the rod is bent at its end")
    assert texts(job)[1:] == [WARNING, "Read contacts one, two, three and four again."]


def test_it_is_over_with_the_question() -> None:
    job = Job().say(*NOT_ENGAGED, *READING)
    assert WARNING not in texts(job.say("say again"))
    assert WARNING not in texts(job.say("hold", "carry on"))


def test_going_back_over_it_forgets_it_until_it_is_said_anew() -> None:
    job = Job().say(*NOT_ENGAGED, "go back", "yes")
    assert job.session.step == "open-end/try-shafts"
    assert WARNING not in texts(job.say("say again"))
    assert texts(job.say("free"))[0] == WARNING


def test_on_hold_they_wait_for_the_question() -> None:
    assert WARNING not in texts(Job().say(*NOT_ENGAGED, "hold", "say again"))


def test_a_question_of_the_sessions_own_has_none_and_that_of_the_step_has_them_after_it() -> None:
    job = Job().say(*NOT_ENGAGED, "go back", "say again")
    assert WARNING not in texts(job)
    assert texts(job.say("no"))[0] == WARNING


AT_TURN = (*AT_BEGIN, "mark")
"""The caution came with the question before, at which the turn begins."""


def test_the_pace_of_a_turn_is_told_once_where_it_begins() -> None:
    job = Job().say(*AT_TURN)
    assert job.session.step == "open-end/turn"
    assert LIMIT not in texts(job)


@pytest.mark.parametrize("words", [("say again",), ("hold", "carry on"), ("go back", "no")])
def test_a_turn_is_not_asked_for_anew_without_its_pace(words: tuple[str, ...]) -> None:
    """No shaft above 200 turns a minute: common practice, no source."""
    *_, pace, asked = texts(Job().say(*AT_TURN, *words))
    assert pace == LIMIT
    assert asked.startswith("If it is not done yet: Turn the open shaft counterclockwise.")


@pytest.mark.parametrize("seconds", [5.0, 3600.0])
def test_nor_after_a_restart_or_a_break(seconds: float) -> None:
    job = Job().say(*AT_TURN).wait(seconds).power_returns()
    if seconds > 600:
        assert LIMIT not in texts(job)
        job.say("yes", "yes")  # it stands as it was left, and is dead
    *_, pace, asked = texts(job)
    assert pace == LIMIT
    assert asked.startswith("If it is not done yet: Turn the open shaft counterclockwise.")


def test_a_turn_with_a_caution_of_its_own_has_that_one_alone() -> None:
    job = Job().say(*AT_TURN).wait(20).say("mark twelve", "correct", "say again")
    assert texts(job)[0] == "Caution. Slowly now, by hand. Never above two hundred turns a minute."
    assert LIMIT not in texts(job)
