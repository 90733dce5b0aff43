"""The grammars by which a doubt is told apart and an answer is taken bit by bit.

No source but the radiotelephony forms (ICAO Annex 10 vol II, from memory) and this project's rule
that only what can be said is understood.
"""

from __future__ import annotations

import pytest

from assistant.language.answers import grammar
from assistant.language.commands import GLOBAL_WORDS
from assistant.language.either import can_be_told_apart, say_either
from assistant.language.english import english
from assistant.language.help import examples
from assistant.language.meaning import (
    Called,
    Choice,
    Command,
    ContactStates,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.questions import (
    AskChoice,
    AskDigits,
    AskDone,
    AskEither,
    AskLamps,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskWhether,
    AskYesNo,
    Question,
)
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

BOOK = english()
YES, NO = Command(Word.YES), Command(Word.NO)
TURNS = AskNumber("turns", called=("mark", "end"), instead=("none",))
CLOSED_7 = ContactStates.of({7: ContactState.CLOSED})


def turns(value: float, name: str = "mark") -> Called:
    return Called(name, Quantity(value, "turns"))


EITHER = (
    AskEither(AskNumber(None), Quantity(6, None), Quantity(5, None)),
    AskEither(AskNumber("turns"), Quantity(0.5, "turns"), Quantity(9, "turns")),
    AskEither(AskNumber("%"), Quantity(2.4, "%"), Quantity(2.5, "%")),
    AskEither(AskNumber("bar"), Quantity(115, "bar"), Quantity(150, "bar")),
    AskEither(AskNumber("turns"), Quantity(100.25, "turns"), Quantity(1, "turns")),
    AskEither(TURNS, turns(5), turns(9)),
    AskEither(TURNS, turns(5), turns(5, "end")),
    AskEither(TURNS, turns(5), turns(9, "end")),
    AskEither(TURNS, turns(9), Choice("none")),
    AskEither(AskRotation(), ShaftTurn(Rotation.CLOCKWISE), ShaftTurn(Rotation.COUNTERCLOCKWISE)),
    AskEither(AskChoice(("rotor-2", "rotor-3")), Choice("rotor-2"), Choice("rotor-3")),
    AskEither(AskSpelling(), Spelling("KF05"), Spelling("KF09")),
    AskEither(AskSpelling(), Spelling("KF05"), Spelling("KM05")),
    AskEither(AskYesNo(), YES, NO),
    AskEither(AskYesNo(), NO, Command(Word.NOTE)),
    AskEither(AskDone(), Command(Word.DONE), Command(Word.GO_BACK)),
    AskEither(AskDone(), Command(Word.HOLD), Command(Word.GO_BACK)),
)
BITS: tuple[Question, ...] = (
    AskWhether(CLOSED_7),
    AskWhether(Lit(("open lamp",))),
    AskWhether(ShaftTurn(Rotation.CLOCKWISE)),
    AskDigits(AskNumber("turns")),
    AskDigits(AskNumber(None)),
    AskDigits(TURNS),
)


@pytest.mark.parametrize("asked", EITHER)
def test_only_the_two_and_neither_can_be_heard(asked: AskEither) -> None:
    assert can_be_told_apart(asked.first, asked.second)
    spoken = grammar(asked, BOOK)
    understood = {spoken.parse(sentence) for sentence in spoken.sentences()}
    two = {asked.first, asked.second}
    neither = set() if two & {YES, NO} or isinstance(asked.question, AskYesNo) else {NO}
    assert understood == two | neither | {Command(word) for word in GLOBAL_WORDS}


@pytest.mark.parametrize("asked", EITHER)
def test_what_is_offered_is_understood_as_what_was_meant(asked: AskEither) -> None:
    spoken = grammar(asked, BOOK)
    first, second = say_either(asked, BOOK)
    assert (spoken.parse(first), spoken.parse(second)) == (asked.first, asked.second)


@pytest.mark.parametrize("question", [*EITHER, *BITS])
def test_every_example_of_help_is_understood(question: Question) -> None:
    spoken = grammar(question, BOOK)
    assert all(spoken.parse(example) is not None for example in examples(spoken))


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (Spelling("KF07"), Spelling("KF070")),
        (Spelling("KF07"), Spelling("GM07")),
        (CLOSED_7, Command(Word.HOLD)),
        (Lit(("a",)), Lit(())),
        (YES, YES),
    ],
)
def test_what_cannot_be_told_apart_in_one_breath(first: Meaning, second: Meaning) -> None:
    assert not can_be_told_apart(first, second)


@pytest.mark.parametrize(
    ("question", "said", "meaning"),
    [
        (EITHER[0], "fife", Quantity(5, None)),
        (EITHER[1], "half a turn", Quantity(0.5, "turns")),
        (EITHER[1], "niner turns", Quantity(9, "turns")),
        (EITHER[3], "115", Quantity(115, "bar")),
        (EITHER[5], "mark at five turns", turns(5)),
        (EITHER[8], "nine", turns(9)),
        (AskWhether(CLOSED_7), "seven is open", NO),
        (AskWhether(CLOSED_7), "closed", YES),
        (AskWhether(CLOSED_7), "correct", YES),
        (AskWhether(Lit(("open lamp",))), "dark", NO),
        (AskWhether(Lit(("open lamp",))), "lit", YES),
        (AskWhether(ShaftTurn(Rotation.CLOCKWISE)), "anticlockwise", NO),
        (AskDigits(AskNumber("turns")), "one five", Quantity(15, "turns")),
        (AskDigits(AskNumber("turns")), "oh niner and a half", Quantity(9.5, "turns")),
        (AskDigits(AskNumber("turns")), "half a turn", Quantity(0.5, "turns")),
        (AskDigits(AskNumber("%")), "one two point five percent", Quantity(12.5, "%")),
        (AskDigits(AskNumber("turns")), "115", Quantity(115, "turns")),
        (AskDigits(TURNS), "end five zero turns", turns(50, "end")),
        (AskDigits(TURNS), "none", Choice("none")),
        (AskDigits(AskNumber("turns")), "fifteen", None),
        (AskLamps((("open lamp", "red"),)), "lit", Lit(("open lamp",))),
        (AskLamps((("open lamp", "red"),)), "dark", Lit(())),
    ],
)
def test_what_is_said_to_it(question: Question, said: str, meaning: Meaning | None) -> None:
    assert grammar(question, BOOK).parse(said) == meaning
