"""Help says what can be said, and only that."""

from __future__ import annotations

import pytest

from assistant.language.answers import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDone,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
    commands_only,
    confirming,
    grammar,
)
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.help import MOST_EXAMPLES, examples, help_for, help_for_confirming

BOOK = english()
QUESTIONS: tuple[Question, ...] = (
    AskDone(),
    AskYesNo(),
    AskMark(),
    AskRotation(),
    AskSpelling(),
    *(AskContacts(tuple(range(1, most + 1))) for most in range(1, 17)),
    AskContacts((1, 2, 5, 6)),
    AskNumber(None),
    AskNumber("turns"),
    AskNumber("%"),
    *(AskNumber(name) for unit in BOOK.units for name in unit.names),
    AskNumber("turns", called=("mark", "end"), instead=("none",)),
    AskNumber("turns", instead=("none",)),
    AskNumber("turns", called=("mark", "end", "stopped", "lost"), instead=("none", "unsure")),
    AskLamps((("open lamp", "red"),)),
    AskLamps((("closed lamp", "green"), ("open lamp", "red"))),
    AskLamps((("closed lamp", "white"), ("open lamp", "white"), ("fault lamp", "amber"))),
    AskAgreement("checker"),
    AskAgreement("technician"),
    AskChoice(("torque", "position", "neither", "both", "unknown")),
)


@pytest.mark.parametrize("question", QUESTIONS)
def test_every_example_is_understood(question: Question) -> None:
    for spoken in (grammar(question, BOOK), confirming(question, BOOK)):
        assert_examples_are_understood(spoken)
        for rule in spoken.rules:
            assert rule.examples or rule.name == "no contact"  # heard, and never taught
            assert all(spoken.parse(example) is not None for example in rule.examples)


def assert_examples_are_understood(spoken: Grammar) -> None:
    given = examples(spoken)
    assert 1 <= len(given) <= MOST_EXAMPLES
    assert len(set(given)) == len(given)
    assert all(spoken.parse(example) is not None for example in given)


def test_help_when_nothing_is_asked() -> None:
    assert_examples_are_understood(commands_only(BOOK))


@pytest.mark.parametrize("question", QUESTIONS)
def test_help_is_short_enough_to_listen_to(question: Question) -> None:
    # 30 words at 165 words a minute are 11 s; this project's own limit.
    for text in (help_for(question, BOOK), help_for_confirming(question, BOOK)):
        assert len(text.split()) <= 30


def test_help_in_full() -> None:
    assert help_for(AskContacts((5, 6)), BOOK) == (
        "You can say: five closed, six open; or: both closed; or: say again; or: hold."
    )
    assert help_for(AskNumber("turns", called=("mark",), instead=("none",)), BOOK) == (
        "You can say: mark twelve turns; or: none; or: say again; or: hold."
    )
    assert help_for(AskLamps((("closed lamp", "green"), ("open lamp", "red"))), BOOK) == (
        "You can say: closed lamp; or: both lit; or: all dark; or: say again."
    )
    assert help_for(AskAgreement("checker"), BOOK) == (
        "You can say: checker correct; or: checker wrong; or: say again; or: hold."
    )
    assert help_for_confirming(AskRotation(), BOOK) == (
        "You can say: yes; or: no; or: wrong, clockwise; or: say again."
    )
