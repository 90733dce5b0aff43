"""The exchange that makes a unit sheet: one question at a time, each answer checked at once."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from typing import Any

from assistant.procedure.located import read_yaml
from assistant.procedure.new_sheet.partial import faults_at
from assistant.procedure.new_sheet.questions import Key, Question, questions
from assistant.procedure.problems import FileRefused

__all__ = ["AnswerRefused", "Interview"]


class AnswerRefused(ValueError):  # noqa: N818 - it says what happened, in the users' words
    """An answer cannot be used; the message says why in the writer's words."""


@dataclass(frozen=True, slots=True)
class Interview:
    """What was asked and answered so far; a new one comes of each answer.

    Args:
        answers: the key of each question with what was typed, in the order of asking.
        values: the same, read.
    """

    answers: tuple[tuple[Key, str], ...] = ()
    values: tuple[tuple[Key, Any], ...] = ()

    @property
    def question(self) -> Question | None:
        """The next question; None once everything was asked."""
        values = dict(self.values)
        for question in questions(values):
            if question.key not in values:
                return question
        return None

    def answered(self, text: str) -> Interview:
        """The interview with an answer to its question.

        Raises:
            AnswerRefused: it is no answer to it, or does not go with the answers before.
        """
        question = self.question
        if question is None:
            raise AnswerRefused("everything was asked")
        value = _read(question, text)
        values = (*self.values, (question.key, value))
        faults = () if value is None else tuple(faults_at(question.key, dict(values)))
        if faults:
            raise AnswerRefused("; ".join(faults))
        return Interview((*self.answers, (question.key, text.strip())), values)

    def back(self) -> Interview:
        """The interview without its last answer."""
        return replace(self, answers=self.answers[:-1], values=self.values[:-1])


def _read(question: Question, text: str) -> Any:
    """What was typed, by the reader of the question."""
    if not text.strip():
        if question.usual is None:
            if question.may_be_empty:
                return None
            raise AnswerRefused("an answer is needed here")
        text = question.usual
    try:
        # As if it stood in a sheet, so that what no sheet can hold is refused now.
        return question.read(read_yaml(json.dumps(text, ensure_ascii=False), "the answer"))
    except FileRefused as refused:
        raise AnswerRefused("; ".join(problem.message for problem in refused.problems)) from None
