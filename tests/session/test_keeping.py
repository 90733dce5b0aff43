"""A note, and the reason for closing a hold or for a skip, kept as they were said.

What is signed for has to be what was meant: a reason counts once it was agreed on (three-part
exchange, DOE-STD-1031-92 §4.1.2.3 to 4.1.2.5), and silence or noise is none.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from assistant.language.english import english
from assistant.language.recognition import Recognition
from assistant.procedure.load import load_program
from assistant.procedure.values import Kind, Value
from assistant.session.account import account
from assistant.session.core import Session
from assistant.session.effects import Failed, HoldClosed, Noted, Skipped
from assistant.session.events import Clip, Heard
from assistant.session.keeping import LEAST_SECONDS
from tests.session.job import PROCEDURES, TO_READING, Job

REASON = "Reason recorded, four seconds. Correct?"
QUESTION = "Read contacts one, two, three and four."
COMMANDS = ("say again", "where am i", "repeat contacts", "slower", "faster", "louder", "softer")


def grafting() -> Job:
    """The shipped procedure in which a step may be skipped."""
    papers = {"grafter": Value(Kind.LETTERS, "RV"), "row": Value(Kind.LETTERS, "A1")}
    return Job(Session(load_program(PROCEDURES / "graft-scion.yaml"), None, english(), papers))


def closing() -> Job:
    """A hold of the procedure, of which the reason is asked."""
    return grafting().say("no", "carry on")


def skipping() -> Job:
    said = ("yes", "dormant", "twelve", "correct", "done", "yes", "mark", "mark")
    return grafting().say(*said, "skip this step", "yes")


def noting() -> Job:
    return Job().say(*TO_READING, "take a note")


def hear(job: Job, seconds: float, confidence: float = 0.01) -> Job:
    """A sound of which the recogniser makes nothing."""
    clip = Clip("clips/0042.wav", "00" * 32)
    return job.take(Heard(job.now, Recognition("no", None, confidence, seconds, "test"), clip))


def test_a_reason_counts_once_it_was_agreed_on() -> None:
    job = hear(closing(), 4.2)
    assert job.said == REASON
    assert not job.all_of(Noted)
    job.say("yes")
    assert job.said == "Who closes this hold? Say technician, or checker."
    assert len(list(job.all_of(Noted))) == 1
    job.say("technician")
    assert list(job.all_of(HoldClosed)) == [
        HoldClosed("Clean and sharpen the knife first.", "technician")
    ]


def test_the_entry_that_agrees_names_the_recording_of_the_reason() -> None:
    job = hear(closing(), 4.2).say("correct")
    told = account(job.session.step, job.history[-1], job.effects)["note"]
    assert told == {"text": "no", "clip": {"file": "clips/0042.wav", "sha256": "00" * 32}}


@pytest.mark.parametrize("begun", [closing, skipping])
@pytest.mark.parametrize("word", ["wrong", "no", "go back"])
def test_wrong_asks_for_the_reason_anew(begun: Callable[[], Job], word: str) -> None:
    job = begun()
    asked = job.said
    job = hear(job, 4.2).say(word)
    assert job.said == f"Again. {asked}"
    assert not job.all_of(Noted)
    assert hear(job, 4.2).said == REASON


def test_silence_and_noise_agree_to_no_reason() -> None:
    job = hear(closing(), 4.2).silence()
    hear(job, 4.2)
    assert not job.all_of(Noted)
    job.silence()
    assert job.session.held
    assert "Clean and sharpen the knife first. On hold." in job.said


def test_a_skip_too_is_not_signed_for_before_its_reason_was_agreed_on() -> None:
    job = hear(skipping(), 4.2)
    assert not job.say("technician").all_of(Skipped)
    job.say("yes", "technician")
    assert job.all_of(Skipped)


@pytest.mark.parametrize("begun", [closing, skipping, noting])
def test_what_is_too_short_for_words_is_asked_for_again_otherwise_and_then_given_up(
    begun: Callable[[], Job],
) -> None:
    job = begun()
    said = [job.said]
    for count in (1, 2, 3):
        hear(job, LEAST_SECONDS - 0.01)
        said.append(job.said)
        assert [one.failure.count for one in job.all_of(Failed) if isinstance(one, Failed)] == [
            count
        ]
        assert not job.all_of(Noted)
    assert said[1].startswith("That was too short. Say ")
    assert said[2] == "Say it in a few words. Or say go back."
    assert said[3].startswith(("No reason was heard. ", "No note was heard. "))
    assert len(set(said)) == len(said)
    assert not job.listen.keeps_words


def test_for_a_reason_it_is_waited_and_asked_and_then_the_hold_stays() -> None:
    job = closing()
    said = [job.said, *(job.silence().said for _ in range(3))]
    assert len(set(said)) == len(said)
    assert said[-1].startswith("No reason was heard. Clean and sharpen the knife first. On hold.")
    assert job.session.held


def test_a_typed_reason_has_no_length() -> None:
    assert closing().say("rust").said == "Reason recorded. Correct?"


@pytest.mark.parametrize("begun", [closing, skipping, noting])
@pytest.mark.parametrize("word", COMMANDS)
def test_a_command_is_obeyed_and_asks_again(begun: Callable[[], Job], word: str) -> None:
    job = begun()
    asked = job.said
    job.say(word)
    assert job.said.endswith(asked)
    assert job.listen.keeps_words
    assert not job.all_of(Noted)


@pytest.mark.parametrize("begun", [closing, skipping, noting])
def test_help_says_how_and_changes_nothing(begun: Callable[[], Job]) -> None:
    job = begun().say("help")
    assert job.said == "Say it in your own words. Or say: say again; or: go back; or: hold."
    assert job.listen.keeps_words


def test_go_back_keeps_nothing_and_undoes_no_answer() -> None:
    job = noting().say("go back")
    assert job.said.startswith("Nothing was kept. ")
    assert job.said.endswith(QUESTION)
    assert not job.all_of(Noted)
    assert closing().say("go back").session.held
    assert skipping().say("go back").said == (
        "Nothing was kept. If it is not done yet: Hang the label on. Say done."
    )


@pytest.mark.parametrize("begun", [closing, skipping, noting])
def test_hold_holds(begun: Callable[[], Job]) -> None:
    assert begun().say("hold").session.held


@pytest.mark.parametrize(
    ("begun", "word", "said"),
    [
        (noting, "carry on", "This comes first. Say the note now."),
        (noting, "skip this step", "This comes first. Say the note now."),
        (noting, "take a note", "Say the note now."),
        (closing, "carry on", "This comes first. Say what was found, and what was done."),
        (closing, "take a note", "This comes first. Say what was found, and what was done."),
        (skipping, "skip this step", "This comes first. Say why."),
    ],
)
def test_what_makes_no_sense_there_keeps_nothing(
    begun: Callable[[], Job], word: str, said: str
) -> None:
    job = begun().say(word)
    assert job.said == said
    assert not job.all_of(Noted)
    assert job.listen.keeps_words


def test_on_hold_carry_on_leaves_a_note_that_was_not_said() -> None:
    job = Job().say(*TO_READING, "hold", "take a note", "carry on")
    assert not job.session.held
    assert not job.all_of(Noted)
    assert job.said.endswith(QUESTION)


@pytest.mark.parametrize("confidence", [0.01, 0.49])
def test_a_command_that_was_not_understood_is_no_command(confidence: float) -> None:
    job = closing()
    meaning = job.listen.grammar.parse("say again")
    heard = Recognition("say again", meaning, confidence, 4.2, "test")
    assert job.take(Heard(job.now, heard)).said == REASON


def test_a_note_counts_at_once_and_tells_how_long_it_is() -> None:
    job = hear(noting(), 3.1)
    assert job.said.startswith("Note kept, three seconds. ")
    assert job.said.endswith(QUESTION)
    assert list(job.all_of(Noted)) == [Noted()]


@pytest.mark.parametrize("word", ["go back", "hold"])
def test_a_note_can_be_taken_wherever_something_is_asked(word: str) -> None:
    job = Job().say(*TO_READING, word)
    asked = job.said
    assert job.say("take a note").said == "Say the note now."
    hear(job, 4.2)
    assert list(job.all_of(Noted)) == [Noted()]
    assert job.said == f"Note kept, four seconds. {asked}"


def test_after_a_power_cut_in_such_a_note_what_waited_is_asked_again() -> None:
    job = Job().say(*TO_READING, "go back", "take a note").power_returns()
    assert job.said.endswith("Go back to the question before? Say yes or no.")
