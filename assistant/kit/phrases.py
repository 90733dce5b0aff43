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

__all__ = ["SIX", "Phrase", "Read", "check_must_be_heard", "check_phrases"]


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase that is to be read.

    Args:
        words: what is to be said.
        question: what it would answer in a job, so that it is heard as it will be.
        must_be_heard: whether no job may be begun where it is not.
    """

    words: str
    question: Question
    must_be_heard: bool = False


SIX = (
    Phrase("one and two closed", AskContacts((1, 2, 3, 4))),
    Phrase("five open, six closed", AskContacts((5, 6, 7, 8))),
    Phrase("counterclockwise", AskRotation()),
    Phrase("mark, nine turns", AskNumber("turns", called=("mark", "end"), most=99.0)),
    Phrase("correct", AskYesNo()),
    Phrase("hold", AskContacts((1, 2, 3, 4)), must_be_heard=True),
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

    @property
    def right(self) -> bool:
        """Whether it was understood as it was meant."""
        return self.heard == self.meant


def check_phrases(read: Iterable[Read]) -> Finding:
    """Judge what was understood at the first reading."""
    phrases = list(read)
    right = [one for one in phrases if one.right]
    wrong = [one for one in phrases if not one.right and one.heard is not None]
    missed = [one for one in phrases if one.heard is None]
    says = f"Of {len(phrases)} phrases I understood {len(right)}."
    if wrong:
        says += f" Misheard: {'; '.join(one.phrase.words for one in wrong)}."
    if missed:
        says += f" Not understood: {'; '.join(one.phrase.words for one in missed)}."
    if len(right) == len(phrases):
        return Finding("the phrases", Fitness.FIT, says)
    says += " Bring the headset nearer, or find a quieter place."
    if not wrong and 2 * len(right) > len(phrases):
        return Finding("the phrases", Fitness.DOUBTFUL, says)
    return Finding("the phrases", Fitness.UNFIT, says)


def check_must_be_heard(first: Read, again: Read | None) -> Finding:
    """Judge a phrase without which no job may be begun.

    Args:
        first: how it was read with the others.
        again: how it was read once more; None where the first reading was right.
    """
    words = first.phrase.words
    subject = f"the word {words}"
    if first.right:
        return Finding(subject, Fitness.FIT, f"I heard {words}.")
    if again is not None and again.right:
        says = f"I heard {words} only the second time. Bring the microphone closer to the mouth."
        return Finding(subject, Fitness.DOUBTFUL, says)
    says = (
        f"I did not hear {words}, though it was asked for twice. Bring the headset nearer, find a "
        "quieter place, or talk by a pedal or key, with --talk."
    )
    return Finding(subject, Fitness.UNFIT, says)
