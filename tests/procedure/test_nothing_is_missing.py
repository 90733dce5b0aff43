"""Every kind of question and of value stands in each table that is looked up by it.

A type checker does not see what a table lacks; a job would meet it.
"""

from __future__ import annotations

from typing import get_args

import pytest

from assistant.language.answers import confirming, grammar
from assistant.language.english import english
from assistant.language.help import help_for
from assistant.language.questions import AskDigits, AskEither, AskNumber, AskWhether, Question
from assistant.procedure.asks import ASK_FIELDS
from assistant.procedure.longest import LONGEST
from assistant.procedure.model import AskKind
from assistant.procedure.uses import KIND_OF_ANSWER
from assistant.procedure.values import FIELDS, Kind
from assistant.session import tapering
from tests.language.test_help import QUESTIONS

BOOK = english()
OF_THE_SESSION = {AskEither, AskWhether, AskDigits}
"""Asked about an answer that is in doubt, and tried where that is tested."""


@pytest.mark.parametrize("kind", set(get_args(Question)) - OF_THE_SESSION)
def test_every_question_can_be_answered_helped_with_and_asked_in_fewer_words(
    kind: type[Question],
) -> None:
    (question, *_) = (one for one in QUESTIONS if isinstance(one, kind))
    if question == AskNumber(None):
        question = AskNumber("turns")
    assert grammar(question, BOOK).rules
    assert confirming(question, BOOK).rules
    assert help_for(question, BOOK)
    assert tapering.shorter(question)


def test_every_kind_of_question_has_its_fields_and_the_kind_of_its_answer() -> None:
    assert set(ASK_FIELDS) == set(KIND_OF_ANSWER) == set(AskKind)


def test_every_kind_of_value_has_a_long_sample() -> None:
    assert set(LONGEST) == set(Kind)
    assert {field.kind for fields in FIELDS.values() for field in fields.values()} <= set(LONGEST)
