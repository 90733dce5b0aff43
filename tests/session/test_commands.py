"""The words that work at every step."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.language.answers import confirming, grammar
from assistant.language.commands import GLOBAL_WORDS
from assistant.language.english import english
from assistant.language.meaning import Command, Word
from assistant.session.commands import OBEY
from assistant.session.effects import Adjust, Adjustment, Noted
from tests.language.test_help import QUESTIONS
from tests.session.job import TO_READING, Job

BOOK = english()

REPLIES = (
    *TO_READING,
    *("one and two closed three and four open", "correct"),
    *("done", "mark", "mark twelve", "correct", "sound", "mark"),
    *("one and two closed three and four open", "correct", "locked"),
    *("counterclockwise", "correct"),
    *("five and six open seven and eight closed", "correct"),
    *("done", "mark", "mark zero", "correct"),
    *("five and six closed seven and eight open", "correct", "locked"),
)
"""A whole job."""


def test_the_replies_are_a_whole_job() -> None:
    job = Job().say(*REPLIES)
    assert job.finished
    assert not job.session.held


@pytest.mark.parametrize("word", ["hold", "stop"])
@pytest.mark.parametrize("at", range(len(REPLIES)))
def test_hold_works_before_every_reply_and_carry_on_returns(word: str, at: int) -> None:
    job = Job().say(*REPLIES[:at])
    before = job.listen
    job.say(word)
    assert job.held
    job.say("carry on")
    assert not job.session.held
    assert job.listen == before
    assert job.say(*REPLIES[at:]).finished


@pytest.mark.parametrize(
    "word",
    ["say again", "help", "where am i", "repeat contacts", "slower", "faster", "louder", "softer"],
)
@pytest.mark.parametrize("at", range(len(REPLIES)))
def test_asking_about_the_job_changes_nothing_in_it(word: str, at: int) -> None:
    job = Job().say(*REPLIES[:at])
    before = job.listen
    job.say(word)
    assert job.said
    assert job.listen == before
    assert not job.confirmed


def test_say_again_repeats_the_question() -> None:
    job = Job().say(*TO_READING)
    job.say("say again")
    assert job.said == (
        "If it is not done yet: Crank back one turn toward closed. "
        "Read contacts one, two, three and four."
    )


@pytest.mark.parametrize("how", Adjustment)
def test_the_voice_is_changed_by_saying_how(how: Adjustment) -> None:
    assert list(Job().say(how.value).all_of(Adjust)) == [Adjust(how)]


def test_go_back_returns_to_the_question_before_and_says_that_the_valve_did_not() -> None:
    job = Job().say(*TO_READING)
    job.say("go back")
    assert job.session.step == "open-end/read"
    assert "Go back to the question before?" in job.said
    job.say("yes")
    assert job.session.step == "open-end/end-stop"
    assert "not the valve" in job.said
    assert "crank to the open stop" in job.said
    job.say("clockwise", "correct")
    assert job.session.step == "open-end/read"


@pytest.mark.parametrize("reply", ["no", "gibberish", ""])
def test_going_back_needs_a_yes(reply: str) -> None:
    # "Go back" sounds like "correct": measured on a synthetic voice.
    job = Job().say(*TO_READING, "one and two closed three and four open")
    before = job.listen
    job.say("go back")
    job.say(reply) if reply else job.silence()
    assert job.listen == before


def test_hold_works_while_going_back_is_asked() -> None:
    assert Job().say(*TO_READING, "go back", "hold").held


def test_go_back_at_the_first_question_stays_there() -> None:
    job = Job()
    step = job.session.step
    job.say("go back")
    assert job.session.step == step
    assert "first question" in job.said


def test_repeat_contacts_says_what_was_confirmed_last() -> None:
    job = Job().say(*TO_READING, "repeat contacts")
    assert "No contacts" in job.said
    job.say("one and two closed three and four open", "correct", "repeat contacts")
    assert "one and two closed, three and four open" in job.said


def test_repeat_contacts_does_not_say_what_was_taken_back() -> None:
    job = Job().say(*TO_READING, "one and two open three and four closed", "correct")
    assert (
        "No contacts have been confirmed yet" in job.say("go back", "yes", "repeat contacts").said
    )


def test_after_a_power_cut_it_is_asked_again_for_a_note_and_not_why() -> None:
    job = Job().say(*TO_READING, "hold", "take a note").power_returns()
    assert job.said.endswith("Say the note now.")


def test_whatever_follows_note_is_kept_as_a_note() -> None:
    job = Job().say(*TO_READING, "take a note", "the seal on the cover is torn")
    assert list(job.all_of(Noted)) == [Noted()]
    assert job.session.step == "open-end/read"
    assert "Read contacts" in job.said


def test_hold_works_even_while_a_note_is_dictated() -> None:
    assert Job().say("take a note", "hold").held


def test_on_hold_only_carry_on_goes_on() -> None:
    job = Job().say(*TO_READING, "hold")
    for words in ("one and two closed", "yes", "done", "correct", "clockwise"):
        job.say(words)
        assert job.session.held
        assert not job.confirmed


def test_after_a_power_cut_the_open_question_is_asked_again() -> None:
    job = Job().say(*TO_READING, "one and two closed three and four open")
    job.power_returns()
    assert "I heard one and two closed, three and four open. Correct?" in job.said
    assert not job.confirmed


def test_work_that_may_have_been_done_is_not_simply_asked_for_again() -> None:
    # A shaft turned a second time goes on to the inverted change-over: common practice, no source.
    reading = (*TO_READING[:-1],)
    for interruption in (("gibberish",), ("hold", "carry on"), ("say again",)):
        job = Job().say(*reading, "correct", *interruption)
        assert "If it is not done yet: Crank back one turn toward closed" in job.said
    job = Job().say(*reading, "correct").power_returns()
    assert "If it is not done yet: Crank back one turn toward closed" in job.said


def test_the_speed_limit_is_spoken_again_before_a_rotation_after_a_break() -> None:
    at_turning = (*TO_READING, "one and two open three and four closed", "correct", "done")
    limit = "Never above two hundred turns a minute"
    assert limit in Job().say(*at_turning, "hold", "carry on").said
    assert limit in Job().say(*at_turning).power_returns().said


def test_every_word_of_the_book_can_be_said_somewhere() -> None:
    """A word that is in no grammar would never be understood."""
    answering = {
        meaning.word
        for question in QUESTIONS
        for spoken in (grammar(question, BOOK), confirming(question, BOOK))
        for said in (phrase.spoken for phrases in BOOK.words.values() for phrase in phrases)
        if isinstance(meaning := spoken.parse(said), Command)
    }
    assert answering == set(Word)


def test_the_manual_names_every_command() -> None:
    manual = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    for word in GLOBAL_WORDS:
        assert f"*{BOOK.words[word][0].spoken}*" in " ".join(manual.lower().split())


def test_every_command_that_can_be_said_is_obeyed() -> None:
    # One that is not would be taken for the answer to a question that any word answers.
    assert set(OBEY) == set(GLOBAL_WORDS)
