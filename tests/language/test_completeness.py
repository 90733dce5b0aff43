"""Whether an answer may go on: by what it may mean when it is longer."""

from __future__ import annotations

import timeit

import pytest

from assistant.language.answers import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDone,
    AskLamps,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
    confirming,
    grammar,
)
from assistant.language.completeness import Completeness, completeness
from assistant.language.english import english
from assistant.language.grammar import Grammar, words_of
from assistant.language.meaning import Command, Word

BOOK = english()
FOUR = AskContacts((1, 2, 3, 4))
LAMPS = AskLamps((("closed lamp", "green"), ("open lamp", "red")))
CHANGE = AskNumber("turns", called=("mark",), instead=("none",), most=99)
PART, EXTENSIBLE, WHOLE = Completeness.PART, Completeness.EXTENSIBLE, Completeness.WHOLE


# Common practice, no source: where people stop to look or to think within such an answer.
@pytest.mark.parametrize(
    ("question", "text", "expected"),
    [
        (FOUR, "", PART),
        (FOUR, "one", PART),
        (FOUR, "one and two", PART),
        (FOUR, "One and two closed.", EXTENSIBLE),
        (FOUR, "one through three closed", EXTENSIBLE),
        (FOUR, "one closed two open three closed four open", WHOLE),
        (FOUR, "1-4 open", WHOLE),
        (FOUR, "one closed, the others open", WHOLE),
        (FOUR, "all four closed", WHOLE),
        (FOUR, "banana", PART),
        (AskContacts((1, 2)), "two closed", EXTENSIBLE),
        (AskContacts((1, 2)), "both closed", WHOLE),
        (AskContacts((4,)), "closed", WHOLE),
        (FOUR, "hold", WHOLE),  # "hold it" says no more
        (AskYesNo(), "no", WHOLE),  # "no stop" is heard over whatever is said next
        (FOUR, "repeat", EXTENSIBLE),  # "repeat contacts" says something else
        (FOUR, "go", PART),
        (AskNumber("turns"), "twenty", EXTENSIBLE),
        (AskNumber("turns"), "twenty five turns", WHOLE),
        (AskNumber("turns"), "one", EXTENSIBLE),
        (AskNumber("turns"), "one and a half", WHOLE),  # "turns" changes nothing
        (AskNumber("turns"), "two point", PART),
        (AskNumber("turns"), "two hundred", EXTENSIBLE),
        (CHANGE, "mark", PART),
        (CHANGE, "mark five", EXTENSIBLE),
        (CHANGE, "mark five turns", WHOLE),
        (CHANGE, "none", WHOLE),
        (AskSpelling(), "kilo foxtrot zero", EXTENSIBLE),
        (AskSpelling(), "KF07", EXTENSIBLE),
        (AskSpelling(), "KF07KF07KF07", WHOLE),
        (AskRotation(), "counter", PART),
        (AskRotation(), "counterclockwise", WHOLE),
        (LAMPS, "open lamp", EXTENSIBLE),
        (LAMPS, "open lamp only", WHOLE),
        (LAMPS, "both", EXTENSIBLE),  # "both dark"
        (LAMPS, "red and green", WHOLE),
        (AskAgreement("checker"), "correct", PART),
        (AskAgreement("checker"), "checker correct", WHOLE),
        (AskChoice(("torque", "torque-switch")), "torque", EXTENSIBLE),
        (AskDone(), "done", WHOLE),
    ],
)
def test_an_answer(question: Question, text: str, expected: Completeness) -> None:
    assert completeness(grammar(question, BOOK), text) is expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("yes", WHOLE),
        ("no", EXTENSIBLE),
        ("wrong", EXTENSIBLE),
        ("wrong one closed", EXTENSIBLE),
        ("wrong two closed one open", WHOLE),
        ("no both open", WHOLE),
    ],
)
def test_after_no_a_correction_may_follow(text: str, expected: Completeness) -> None:
    assert completeness(confirming(AskContacts((1, 2)), BOOK), text) is expected


SMALL = (AskContacts((1, 2)), AskRotation(), LAMPS, AskAgreement("checker"), AskYesNo())


@pytest.mark.parametrize(
    "spoken",
    [make(question, BOOK) for question in SMALL for make in (grammar, confirming)],
)
def test_it_agrees_with_all_sentences_of_a_small_grammar(spoken: Grammar) -> None:
    meanings = {words_of(sentence): spoken.parse(sentence) for sentence in spoken.sentences()}
    for words, meaning in list(meanings.items())[:400]:
        onward = {
            other
            for longer, other in meanings.items()
            if len(longer) > len(words) and longer[: len(words)] == words
        }
        expected = EXTENSIBLE if onward - {meaning, Command(Word.HOLD)} else WHOLE
        assert completeness(spoken, " ".join(words)) is expected, words


def test_sixteen_contacts_are_judged_at_once() -> None:
    # 60 ms are there for the whole decision after the end of speech: this project's own limit.
    spoken = grammar(AskContacts(tuple(range(1, 17))), BOOK)
    told = "one through four closed five and six open seven closed 8-12 open thirteen to 16 closed"
    assert completeness(spoken, told) is WHOLE
    runs = timeit.repeat(lambda: completeness(spoken, told), number=1, repeat=5)
    assert min(runs) < 0.03
