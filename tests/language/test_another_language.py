"""German is one phrase book file and no code: commands and contact states, heard and said."""

from __future__ import annotations

import functools
from pathlib import Path

import pytest
import yaml

from assistant.language.answers import (
    AskContacts,
    AskDone,
    AskEither,
    AskNumber,
    AskRotation,
    AskWhether,
    AskYesNo,
    Question,
    confirming,
    grammar,
)
from assistant.language.commands import GLOBAL_WORDS
from assistant.language.completeness import Completeness, completeness
from assistant.language.either import say_either
from assistant.language.help import help_for
from assistant.language.meaning import (
    Command,
    ContactStates,
    Correction,
    Meaning,
    Quantity,
    ShaftTurn,
    Word,
)
from assistant.language.phrase_book import PhraseBook
from assistant.language.speaking import say_meaning
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

FOUR = AskContacts((1, 2, 3, 4))
OPEN, CLOSED = ContactState.OPEN, ContactState.CLOSED
LEFT, RIGHT = Rotation.COUNTERCLOCKWISE, Rotation.CLOCKWISE


@functools.cache
def german() -> PhraseBook:
    text = Path(__file__).with_name("german.yaml").read_text("utf-8")
    return PhraseBook.from_data(yaml.safe_load(text))


def states(closed: tuple[int, ...], open_: tuple[int, ...]) -> ContactStates:
    return ContactStates.of(dict.fromkeys(closed, CLOSED) | dict.fromkeys(open_, OPEN))


# The German is common usage, no source.
@pytest.mark.parametrize(
    ("question", "text", "meaning"),
    [
        (FOUR, "eins geschlossen", states((1,), ())),
        (FOUR, "eins und zwei geschlossen, drei und vier offen", states((1, 2), (3, 4))),
        (FOUR, "Kontakt zwo ist zu", states((2,), ())),
        (FOUR, "Kontakte eins bis drei sind geschlossen", states((1, 2, 3), ())),
        (FOUR, "alle vier offen", states((), (1, 2, 3, 4))),
        (FOUR, "drei zu, die anderen offen", states((3,), (1, 2, 4))),
        (AskContacts((7, 8)), "beide offen", states((), (7, 8))),
        (AskContacts((15, 16)), "fünfzehn zu, sechzehn offen", states((15,), (16,))),
        (AskYesNo(), "richtig", Command(Word.YES)),
        (AskYesNo(), "nein", Command(Word.NO)),
        (AskDone(), "Fertig.", Command(Word.DONE)),
        (AskRotation(), "gegen den Uhrzeigersinn", ShaftTurn(LEFT)),
        (AskRotation(), "rechtsherum", ShaftTurn(RIGHT)),
        (AskWhether(states((1,), ())), "offen", Command(Word.NO)),
        (AskNumber("turns"), "einundzwanzig Umdrehungen", Quantity(21, "turns")),
        (AskNumber("turns"), "zwei einhalb Umdrehungen", Quantity(2.5, "turns")),
        (AskNumber("turns"), "zwei hundert fünf Umdrehungen", Quantity(205, "turns")),
        (AskNumber("%"), "zwei Komma vier Prozent", Quantity(2.4, "%")),
    ],
)
def test_an_answer_is_understood(question: Question, text: str, meaning: Meaning) -> None:
    assert grammar(question, german()).parse(text) == meaning


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("halt", Word.HOLD),
        ("stopp", Word.HOLD),
        ("weiter", Word.CARRY_ON),
        ("noch einmal", Word.SAY_AGAIN),
        ("einen Schritt zurück", Word.GO_BACK),
        ("Wo bin ich?", Word.WHERE_AM_I),
        ("Hilfe", Word.HELP),
    ],
)
@pytest.mark.parametrize("question", [FOUR, AskYesNo(), AskRotation(), AskNumber("turns")])
def test_a_command_is_understood_at_every_question(
    question: Question, text: str, word: Word
) -> None:
    assert grammar(question, german()).parse(text) == Command(word)


def test_every_command_has_german_words_of_its_own() -> None:
    said = [phrase.spoken for word in GLOBAL_WORDS for phrase in german().words[word]]
    assert len(set(said)) == len(said) >= len(GLOBAL_WORDS)


@pytest.mark.parametrize("text", ["one closed", "hold", "eins zwei", "fünf geschlossen", "hallo"])
def test_what_is_no_german_reply_is_not_understood(text: str) -> None:
    assert grammar(FOUR, german()).parse(text) is None


def test_a_correction_in_one_breath() -> None:
    corrected = Correction(states((2,), ()))
    assert confirming(FOUR, german()).parse("falsch, zwei geschlossen") == corrected
    none_open = Correction(states((1, 2, 3, 4), ()))
    assert confirming(FOUR, german()).parse("keiner ist offen") == none_open


def test_what_is_said_back_is_german_and_understood() -> None:
    for meaning, said in (
        (states((1, 2), (3, 4)), "eins und zwei geschlossen, drei und vier offen"),
        (ShaftTurn(LEFT), "gegen den uhrzeigersinn"),
        (Quantity(21, "turns"), "einundzwanzig umdrehungen"),
    ):
        assert say_meaning(meaning, german()) == said
    assert help_for(FOUR, german()).startswith("Sie können sagen: eins und zwei geschlossen")
    either = AskEither(FOUR, states((2,), ()), states((), (2,)))
    assert say_either(either, german()) == ("zwei geschlossen", "zwei offen")


def test_it_is_known_whether_more_will_come() -> None:
    under = grammar(FOUR, german())
    assert completeness(under, "eins und zwei") is Completeness.PART
    assert completeness(under, "alle vier offen") is Completeness.WHOLE
