"""A question that gets no answer is asked in other words, then bit by bit, then the job is held.

Source: VoiceXML 2.0, tapered prompts; that no sentence comes twice in a row is this project's rule.
"""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.language.answers import grammar
from assistant.language.english import english
from assistant.language.meaning import Lit, Meaning, Quantity, ShaftTurn
from assistant.language.questions import AskedByStep, AskLamps, AskNumber, AskRotation
from assistant.language.recognition import Unclear
from assistant.session.account import account
from assistant.session.dialogue import Dialogue
from assistant.session.effects import Failed, Held
from assistant.session.replies import Failure, GaveUp, Reply, Speaks, Why
from assistant.trade.motion import Rotation
from tests.language.test_help import QUESTIONS
from tests.session.job import TO_READING, Job
from tests.session.unclear import unclear

BOOK = english()
PAST = "one and two closed three and four open"


@pytest.fixture
def at_reading() -> Job:
    return Job().say(*TO_READING)


def test_contact_by_contact_with_yes_and_no(at_reading: Job) -> None:
    at_reading.say("gibberish", "gibberish")
    assert at_reading.said == "One at a time. Is contact one closed, yes or no?"
    at_reading.say("yes")
    assert at_reading.said == "Is contact two closed?"
    at_reading.say("closed")
    assert at_reading.said == "Is contact three closed?"
    at_reading.say("no")
    at_reading.say("open")
    assert at_reading.said == "I heard one and two closed, three and four open. Correct?"
    assert at_reading.say("correct").confirmed


def test_contact_by_contact_asks_only_for_what_was_not_told(at_reading: Job) -> None:
    at_reading.say("one and two closed", "gibberish", "gibberish")
    assert at_reading.said == "One at a time. Is contact three closed, yes or no?"
    at_reading.say("no", "no")
    assert "one and two closed, three and four open" in at_reading.said


def test_each_bit_has_its_own_failures_and_the_last_one_holds(at_reading: Job) -> None:
    at_reading.say("gibberish", "gibberish", "yes", "gibberish")
    assert at_reading.said == "I did not understand. Contact two: closed, or open?"
    at_reading.silence()
    assert at_reading.said.startswith("You can say: yes; or: no")
    at_reading.say("gibberish")
    assert at_reading.held
    # Nothing of it is kept over the hold.
    assert "Read contacts one, two, three and four." in at_reading.say("carry on").said


def test_a_wrong_bit_is_corrected_in_one_breath(at_reading: Job) -> None:
    at_reading.say("gibberish", "gibberish", "yes", "no", "no", "no", "wrong, two closed")
    assert at_reading.said == "I heard one and two closed, three and four open. Correct?"


@pytest.mark.parametrize(
    ("question", "asked", "replies", "read_back"),
    [
        (
            AskLamps((("closed lamp", "green"), ("open lamp", "red"))),
            "One at a time. Is the closed lamp lit, yes or no?",
            ("dark", "yes"),
            Lit(("open lamp",)),
        ),
        (
            AskRotation(),
            "Did it turn clockwise, yes or no?",
            ("no",),
            ShaftTurn(Rotation.COUNTERCLOCKWISE),
        ),
        (
            AskNumber("turns"),
            "Digit by digit. For fifteen say one five.",
            ("five zero and a half turns",),
            Quantity(50.5, "turns"),
        ),
    ],
)
def test_other_answers_bit_by_bit(
    question: AskedByStep, asked: str, replies: tuple[str, ...], read_back: Meaning
) -> None:
    dialogue = Dialogue(question, ("What now?",), reads_back=True, book=BOOK)
    dialogue.miss()
    reply = dialogue.miss()
    assert isinstance(reply, Speaks)
    assert reply.sentences == (asked,)
    for said in replies:
        meaning = dialogue.listening_to.parse(said)
        assert meaning is not None
        dialogue.hear(meaning)
    assert dialogue.pending == read_back


@settings(deadline=None)
@given(
    question=st.sampled_from(QUESTIONS),
    works=st.booleans(),
    reads_back=st.booleans(),
    answers=st.booleans(),
    failures=st.lists(st.sampled_from(("miss", "silence", "unclear")), min_size=3, max_size=3),
)
def test_no_sentence_comes_twice_in_a_row_and_the_third_failure_gives_up(
    question: AskedByStep, works: bool, reads_back: bool, answers: bool, failures: list[str]
) -> None:
    dialogue = Dialogue(question, ("Look at it.",), reads_back, BOOK, works=works)
    replies: list[Reply] = [Speaks(("Look at it.",))]
    spoken = grammar(question, BOOK)
    parsed = (spoken.parse(one) for one in spoken.sentences(40))
    meanings = list(dict.fromkeys(meaning for meaning in parsed if meaning))
    if answers and reads_back:
        replies.append(dialogue.hear(meanings[0]))
    for count, failure in enumerate(failures, start=1):
        match failure:
            case "miss":
                replies.append(dialogue.miss())
            case "silence":
                replies.append(dialogue.silence())
            case _:
                replies.append(dialogue.hear_unclear(Unclear(meanings[0], meanings[-1])))
        last = replies[-1]
        assert isinstance(last, Speaks | GaveUp)
        assert last.failure is not None
        assert last.failure.count == count
    assert isinstance(replies[-1], GaveUp)
    texts = [reply.sentences for reply in replies if isinstance(reply, Speaks)]
    assert all(one != two for one, two in itertools.pairwise(texts))


@pytest.mark.parametrize("question", QUESTIONS)
def test_a_question_in_other_words_is_short_enough_to_listen_to(question: AskedByStep) -> None:
    # 30 words at 165 words a minute are 11 s; this project's own limit.
    dialogue = Dialogue(question, ("Look at it.",), reads_back=True, book=BOOK)
    for reply in (dialogue.miss(), dialogue.miss()):
        assert isinstance(reply, Speaks)
        assert len(" ".join(reply.sentences).split()) <= 30


def test_the_journal_counts_every_failure_of_a_question(at_reading: Job) -> None:
    at_reading.say("gibberish")
    assert list(at_reading.all_of(Failed)) == [Failed(Failure(Why.NOMATCH, 1))]
    at_reading.silence()
    assert list(at_reading.all_of(Failed)) == [Failed(Failure(Why.NOINPUT, 2))]
    body = account("read", at_reading.history[-1], at_reading.effects)
    assert body["failed"] == {"why": "noinput", "count": 2}
    at_reading.say("yes", "no", "no", "no")
    assert not at_reading.all_of(Failed)
    # The read-back belongs to the same question.
    at_reading.say("gibberish")
    assert list(at_reading.all_of(Failed)) == [Failed(Failure(Why.NOMATCH, 3))]
    # The next question counts anew.
    job = unclear(at_reading.say("wrong", PAST, "correct", "done"), "mark", "take a note")
    assert list(job.all_of(Failed)) == [Failed(Failure(Why.UNCLEAR, 1))]


def test_the_failure_that_holds_the_job_is_counted_too(at_reading: Job) -> None:
    at_reading.silence(3)
    assert list(at_reading.all_of(Held))
    assert list(at_reading.all_of(Failed)) == [Failed(Failure(Why.NOINPUT, 3))]


def test_a_number_that_cannot_be_is_a_failure(at_reading: Job) -> None:
    at_reading.say("one and two open three and four closed", "correct", "done")
    job = at_reading.say("mark", "mark ninety")
    assert job.said == "Ninety revolutions cannot be. Say mark and the revolutions, or none."
    assert list(job.all_of(Failed)) == [Failed(Failure(Why.BEYOND_BELIEF, 1))]
