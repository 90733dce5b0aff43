"""A wake word: what counts with it, and what passes as silence. All common practice, no source."""

from __future__ import annotations

import itertools

import pytest

from assistant.language.answers import AskContacts, commands_only, grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.meaning import Command, ContactStates, Meaning, Word
from assistant.language.recognition import Recognition
from assistant.language.wake_word import WakeWordError, check_wake_word
from assistant.speech.devices.wake_word_ears import WakeWordEars
from assistant.speech.ears import Reply, Silence, Spoken
from assistant.speech.fakes import FakeEars
from assistant.trade.contacts import ContactState

WORD = "kingfisher"
BOTH_CLOSED = ContactStates(((1, ContactState.CLOSED), (2, ContactState.CLOSED)))


@pytest.fixture
def contacts() -> Grammar:
    return grammar(AskContacts((1, 2)), english())


def heard(grammar: Grammar, *said: str, patience: float = 60.0) -> Reply:
    """The reply, where a second passes each time that the clock is looked at."""
    seconds = itertools.count().__next__
    return WakeWordEars(FakeEars(said), WORD, english(), lambda: float(seconds())).listen(
        grammar, patience
    )


def meaning(reply: Reply) -> Meaning | None:
    assert isinstance(reply, Spoken)
    return reply.recognition.accepted()


def test_what_is_said_after_the_word_counts(contacts: Grammar) -> None:
    assert meaning(heard(contacts, "kingfisher one and two closed")) == BOTH_CLOSED


def test_what_others_say_is_passed_over(contacts: Grammar) -> None:
    reply = heard(contacts, "one and two open", "where is my tea", "kingfisher both closed")
    assert meaning(reply) == BOTH_CLOSED


@pytest.mark.parametrize("said", ["hold", "stop", "kingfisher hold"])
def test_hold_needs_no_word(contacts: Grammar, said: str) -> None:
    assert meaning(heard(contacts, said)) == Command(Word.HOLD)


def test_talk_of_others_does_not_make_the_program_wait_for_ever(contacts: Grammar) -> None:
    assert heard(contacts, *["one and two open"] * 20, patience=5.0) == Silence()


def test_what_is_doubtful_after_the_word_is_asked_about(contacts: Grammar) -> None:
    doubtful = Recognition("kingfisher hold", BOTH_CLOSED, 0.4, 1.0, "x", Command(Word.HOLD))

    class Doubting:
        def listen(self, grammar: Grammar, patience: float) -> Reply:
            return Spoken(doubtful, None)

    reply = WakeWordEars(Doubting(), WORD, english()).listen(contacts, 5.0)
    assert reply == Spoken(doubtful, None)


def test_a_reply_that_seems_to_begin_with_the_word_is_asked_again(contacts: Grammar) -> None:
    faint = Recognition("kingfisher both closed", BOTH_CLOSED, 0.85, 1.0, "x", level=0.9)

    class Faint:
        def listen(self, grammar: Grammar, patience: float) -> Reply:
            return Spoken(faint, None)

    assert WakeWordEars(Faint(), WORD, english()).listen(contacts, 5.0) == Spoken(faint, None)


def test_a_note_needs_no_word() -> None:
    assert meaning(heard(commands_only(english()), "the gasket weeps")) is None


@pytest.mark.parametrize(
    "word",
    [
        *("kings cross", "Kingfisher", "tern", "", "where", "contacts", "correct", "wrong"),
        *("seven", "green", "lamps", "percent", "seconds", "revolutions"),
    ],
)
def test_a_word_that_cannot_be_told_from_the_rest_is_refused(word: str) -> None:
    with pytest.raises(WakeWordError, match="cannot be the wake word"):
        check_wake_word(word, english())
