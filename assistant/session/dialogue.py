"""One question, from the first asking to an answer that counts.

An answer that decides something is read back and counts only after "correct" or "yes"; "wrong"
asks again, and "wrong" with the right answer in the same breath is read back anew. What is not
understood is asked again, then asked with what can be said, then given up: the job is held, and
silence is never taken for an answer. Source: three-part exchange, DOE-STD-1031-92 §4.1.2.3 to
4.1.2.5; noinput and nomatch as in VoiceXML 2.0.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.language.answers import AskContacts, AskDone, Question, confirming, grammar
from assistant.language.grammar import Grammar
from assistant.language.help import help_for, help_for_confirming
from assistant.language.meaning import (
    Called,
    Choice,
    Command,
    ContactStates,
    Correction,
    Meaning,
    Quantity,
    Word,
)
from assistant.language.phrase_book import PhraseBook
from assistant.session import wording
from assistant.trade.contacts import ContactState

__all__ = ["Answered", "Dialogue", "GaveUp", "Range", "Reply", "Speaks"]

MOST_FAILURES = 2
"""How often a question is asked again before the job is held."""


@dataclass(frozen=True, slots=True)
class Speaks:
    """The question is still open: say this, and listen on."""

    text: str


@dataclass(frozen=True, slots=True)
class Answered:
    """The question has an answer that counts."""

    meaning: Meaning


@dataclass(frozen=True, slots=True)
class GaveUp:
    """The question got no answer; why."""

    reason: str


Reply = Speaks | Answered | GaveUp


@dataclass(frozen=True, slots=True)
class Range:
    """The numbers that are believed, ends included."""

    least: float | None = None
    most: float | None = None

    def refuses(self, value: float) -> bool:
        """Whether a number lies outside."""
        below = self.least is not None and value < self.least
        above = self.most is not None and value > self.most
        return below or above


@dataclass(slots=True)
class Dialogue:
    """The exchange about one question.

    Args:
        question: what is asked.
        prompt: how it is asked, without warnings and cautions.
        reads_back: whether the answer needs a confirmation.
        book: the phrase book.
        believed: for numbers, the range that is believed.
        works: whether something is to be done to the valve first.
    """

    question: Question
    prompt: str
    reads_back: bool
    book: PhraseBook
    believed: Range = field(default_factory=Range)
    works: bool = False
    pending: Meaning | None = None
    _gathered: dict[int, ContactState] = field(default_factory=dict)
    _failures: int = 0

    @property
    def listening_to(self) -> Grammar:
        """What may be said now."""
        if self.pending is not None:
            return confirming(self.question, self.book)
        return grammar(self.open_question, self.book)

    @property
    def open_question(self) -> Question:
        """The question, less the contacts that were already told."""
        if isinstance(self.question, AskContacts) and self._gathered:
            left = [n for n in self.question.contacts if n not in self._gathered]
            return AskContacts(tuple(left)) if left else self.question
        return self.question

    @property
    def asking(self) -> str:
        """What is being asked at this moment, after it was asked for the first time."""
        if self.pending is not None:
            return wording.read_back(self.pending)
        open_question = self.open_question
        if open_question != self.question and isinstance(open_question, AskContacts):
            return wording.and_the_rest(open_question.contacts)
        if self.works or isinstance(self.question, AskDone):
            # Turned a second time, a shaft would go on to the inverted change-over.
            return wording.unless_done(self.prompt)
        return self.prompt

    def hear(self, meaning: Meaning) -> Reply:
        """Take a reply that was understood."""
        if self.pending is not None:
            return self._confirm(self.pending, meaning)
        return self._take(meaning)

    def miss(self) -> Reply:
        """Take a reply that was not understood (nomatch)."""
        return self._fail("I did not understand.", "I could not understand you.")

    def silence(self) -> Reply:
        """Take silence (noinput)."""
        return self._fail("I am listening.", "I heard nothing.")

    def _confirm(self, pending: Meaning, meaning: Meaning) -> Reply:
        match meaning:
            case Command(Word.YES):
                return Answered(pending)
            case Command(Word.NO):
                self._restart()
                return Speaks(f"Again. {self.asking}")
            case Correction(answer):
                return self._take(_corrected(pending, answer))
        return self.miss()

    def _restart(self) -> None:
        self.pending = None
        self._gathered.clear()
        self._failures = 0

    def _take(self, meaning: Meaning) -> Reply:
        number = meaning.number if isinstance(meaning, Called) else meaning
        if isinstance(number, Quantity) and self.believed.refuses(number.value):
            return self._fail(wording.beyond_belief(number), "No number was possible.")
        if isinstance(meaning, ContactStates) and isinstance(self.question, AskContacts):
            self._gathered.update(meaning.mapping())
            if set(self._gathered) != set(self.question.contacts):
                self._failures = 0
                return Speaks(self.asking)
            meaning = ContactStates.of(self._gathered)
        self._failures = 0
        if not self.reads_back or isinstance(meaning, Choice):
            return Answered(meaning)
        self.pending = meaning
        return Speaks(wording.read_back(meaning))

    def _fail(self, what: str, given_up: str) -> Reply:
        self._failures += 1
        if self._failures > MOST_FAILURES:
            self._restart()
            return GaveUp(given_up)
        if self.pending is not None:
            return Speaks(f"{what} {wording.read_back_again(self.pending)}")
        # The work is not asked for again: done twice, it would spoil what was done.
        asking = wording.SAY_DONE if isinstance(self.question, AskDone) else self.asking
        return Speaks(f"{what if self._failures == 1 else self.help()} {asking}")

    def help(self) -> str:
        """What can be said now."""
        if self.pending is not None:
            return help_for_confirming(self.question, self.book)
        return help_for(self.open_question, self.book)


def _corrected(pending: Meaning, answer: Meaning) -> Meaning:
    """The answer in place of the pending one; contacts not mentioned stay as they were."""
    if isinstance(pending, ContactStates) and isinstance(answer, ContactStates):
        return ContactStates.of({**pending.mapping(), **answer.mapping()})
    return answer
