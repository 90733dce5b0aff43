"""Six phrases of the job, read in the noise of the place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from assistant.kit.findings import Finding, Fitness
from assistant.language.meaning import Meaning
from assistant.language.questions import (
    AskContacts,
    AskNumber,
    AskRotation,
    AskYesNo,
    Question,
)

__all__ = ["SIX", "Phrase", "Read", "check_phrases"]


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase that is to be read.

    Args:
        words: what is to be said.
        question: what it would answer in a job, so that it is heard as it will be.
    """

    words: str
    question: Question


SIX = (
    Phrase("one and two closed", AskContacts((1, 2, 3, 4))),
    Phrase("five open, six closed", AskContacts((5, 6, 7, 8))),
    Phrase("counterclockwise", AskRotation()),
    Phrase("mark, nine turns", AskNumber("turns", called=("mark", "end"), most=99.0)),
    Phrase("correct", AskYesNo()),
    Phrase("hold", AskContacts((1, 2, 3, 4))),
)
"""What decides a setting, what is easily misheard, and what must always be heard."""


@dataclass(frozen=True, slots=True)
class Read:
    """A phrase that was read.

    Args:
        phrase: what was to be read.
        meant: what it means.
        heard: what was understood and believed; None where nothing was.
    """

    phrase: Phrase
    meant: Meaning
    heard: Meaning | None


def check_phrases(read: Iterable[Read]) -> Finding:
    """Judge what was understood at the first reading."""
    phrases = list(read)
    right = [one for one in phrases if one.heard == one.meant]
    wrong = [one for one in phrases if one.heard not in {None, one.meant}]
    missed = [one for one in phrases if one.heard is None]
    says = f"Of {len(phrases)} phrases I understood {len(right)}."
    if wrong:
        says += f" I took another for: {'; '.join(one.phrase.words for one in wrong)}."
    if missed:
        says += f" Not understood: {'; '.join(one.phrase.words for one in missed)}."
    if len(right) == len(phrases):
        return Finding("the phrases", Fitness.FIT, says)
    if not wrong and 2 * len(right) > len(phrases):
        return Finding("the phrases", Fitness.DOUBTFUL, says)
    return Finding("the phrases", Fitness.UNFIT, says)
