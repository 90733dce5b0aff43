"""One question, from the first asking to an answer that counts.

An answer that decides something is read back and counts only after "correct" or "yes"; "wrong"
asks again, and "wrong" with the right answer in the same breath is read back anew. What is unclear
between two answers is asked about, and only that (`disambiguation`). What is not understood is
asked again in other words (`tapering`), then bit by bit (`spelling_out`), then given up: the job is
held, and silence is never taken for an answer. Source: three-part exchange, DOE-STD-1031-92
§4.1.2.3 to 4.1.2.5; noinput, nomatch and tapered prompts as in VoiceXML 2.0.

How often a question may fail, and what makes it count anew, decides when a job is held: journals
that older programs wrote are opened by the same numbers.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.language.answers import confirming, grammar
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
from assistant.language.questions import (
    AskChoice,
    AskContacts,
    AskDone,
    AskedByStep,
    AskEither,
    AskLamps,
    AskMark,
    AskWhether,
    AskYesNo,
    Question,
)
from assistant.language.recognition import Unclear
from assistant.session import tapering, wording
from assistant.session.belief import Range
from assistant.session.disambiguation import Doubt, doubt_in
from assistant.session.partial_answer import PartialAnswer, parts_of
from assistant.session.replies import Answered, Failure, GaveUp, Reply, Speaks, Why
from assistant.session.spelling_out import answer_of, spelled_out

__all__ = ["MOST_FAILURES", "Dialogue"]

MOST_FAILURES = 2
"""How often in a row a question may fail; after one more the job is held."""


@dataclass(slots=True)
class Dialogue:
    """The exchange about one question.

    Args:
        question: what is asked.
        prompt: how it is asked, without warnings and cautions: the work that comes first and the
            question, each as a prompt of its own.
        reads_back: whether the answer needs a confirmation.
        book: the phrase book.
        believed: for numbers, the range that is believed.
        works: whether something is to be done to the valve first.
        failures: how often it got no answer, in all.
    """

    question: AskedByStep
    prompt: tuple[str, ...]
    reads_back: bool
    book: PhraseBook
    believed: Range = field(default_factory=Range)
    works: bool = False
    failures: int = 0
    _pending: Meaning | None = None
    _told: PartialAnswer = field(init=False)
    _doubt: Doubt | None = None
    _bit_by_bit: bool = False
    _in_a_row: int = 0

    def __post_init__(self) -> None:
        self._told = PartialAnswer(self.question)

    @property
    def pending(self) -> Meaning | None:
        """The answer that was read back and waits for its confirmation."""
        return self._pending if self._doubt is None else None

    @property
    def in_doubt(self) -> bool:
        """Whether it is asked which of two answers was said."""
        return self._doubt is not None

    @property
    def listening_to(self) -> Grammar:
        """What may be said now."""
        if self.pending is not None:
            return confirming(self.question, self.book)
        return grammar(self.open_question, self.book)

    @property
    def open_question(self) -> Question:
        """What is asked at this moment: the doubt, the next bit, or what was not told yet."""
        if self._doubt is not None and self._doubt.question is not None:
            return self._doubt.question
        left = self._told.open_question
        return (spelled_out(left) if self._bit_by_bit else None) or left

    @property
    def asking(self) -> tuple[str, ...]:
        """How it is asked at this moment, after it was asked for the first time."""
        if self._doubt is not None:
            return (self._doubt.prompt,)
        if self._pending is not None:
            return (wording.read_back(self._pending),)
        open_question = self.open_question
        if isinstance(open_question, AskContacts | AskLamps) and self._told.begun:
            return (wording.and_the_rest(self._told.left),)
        if open_question != self.question:
            return (tapering.bit_by_bit(open_question),)
        works = self.works and not isinstance(self.question, AskMark)  # what moves is waited for
        if works or isinstance(self.question, AskDone):
            # Turned a second time, a shaft would go on to the inverted change-over.
            first, *others = self.prompt
            return (wording.unless_done(first), *others)
        return self.prompt

    def help(self) -> str:
        """What can be said now."""
        if self.pending is not None:
            return help_for_confirming(self.question, self.book)
        return help_for(self.open_question, self.book)

    def hear(self, meaning: Meaning) -> Reply:
        """Take a reply that was understood."""
        asked, neither = self.open_question, self.is_neither(meaning)
        self._doubt = None
        if self._pending is not None:
            return self._confirm(self._pending, meaning)
        if isinstance(meaning, Correction):
            # In journals of older programs only: one that was refused left the first answer there.
            meaning = meaning.answer
        if neither:
            return Speaks((wording.AGAIN, *self.asking))
        match asked, meaning:
            case AskWhether(), Command(Word.YES | Word.NO as word):
                bit = self._told.of(self._told.left[:1])
                return self._take(answer_of(asked, word is Word.YES), bit)
        parted = isinstance(asked, AskContacts | AskLamps)
        return self._take(meaning, asked if parted else self._told.open_question)

    def is_neither(self, meaning: Meaning) -> bool:
        """Whether a reply says that neither of the two was said that are asked about."""
        asks = self._pending is None and isinstance(self.open_question, AskEither)
        return asks and meaning == Command(Word.NO) and not isinstance(self.question, AskYesNo)

    def settle(self, command: Command) -> None:
        """A command is obeyed; if it is one of the two that are asked about, it was that one."""
        match self.open_question:
            case AskEither(first=first, second=second) if command in (first, second):
                self._doubt = None

    def miss(self) -> Reply:
        """Take a reply that was not understood (nomatch)."""
        return self._fail(Why.NOMATCH, "I did not understand.")

    def silence(self) -> Reply:
        """Take silence (noinput)."""
        return self._fail(Why.NOINPUT, wording.LISTENING)

    def hear_unclear(self, unclear: Unclear) -> Reply:
        """Take a reply of which two meanings are known, but not which was said."""
        askable = not (self._bit_by_bit or self.in_doubt or self._in_a_row)
        doubt = self._doubt_in(unclear) if askable else None
        if doubt is None:
            return self._fail(Why.UNCLEAR, "I did not understand.")
        if isinstance(unclear.best, Correction):
            self.begin_anew()  # both readings call what was read back wrong
        self._told.doubt(doubt.parts)
        self._told.tell(doubt.kept)
        if doubt.question is not None:
            self._doubt = doubt
        elif (whole := self._told.whole) is not None:
            return self._take(whole, self.question)  # the two make the same of it
        failure = self._count(Why.UNCLEAR)
        return Speaks(self.asking, failure)

    def _doubt_in(self, unclear: Unclear) -> Doubt | None:
        """What is doubtful; of two corrections, what they make of the answer that was read back."""
        if self._pending is None:
            return doubt_in(unclear, self._told.open_question, self.book)
        match unclear.best, unclear.other:
            case Correction(best), Correction(other):
                corrected = (_corrected(self._pending, answer) for answer in (best, other))
                unclear = Unclear(*corrected)
        return doubt_in(unclear, self.question, self.book)

    def _confirm(self, pending: Meaning, meaning: Meaning) -> Reply:
        match meaning:
            case Command(Word.YES):
                return Answered(pending)
            case Command(Word.NO):
                self.begin_anew()
                return Speaks((wording.AGAIN, *self.asking))
            case Correction(answer):
                self._pending = None  # it was called wrong, whatever becomes of the other
                return self._take(_corrected(pending, answer), self.question)
        return self.miss()

    def begin_anew(self) -> None:
        """Forget what was told, and what is doubtful of it: the question is asked in full."""
        self._pending = self._doubt = None
        self._told.forget()
        self._bit_by_bit = False
        self._in_a_row = 0

    def _take(self, meaning: Meaning, asked: Question) -> Reply:
        number = meaning.number if isinstance(meaning, Called) else meaning
        if isinstance(number, Quantity) and self.believed.refuses(number.value):
            return self._fail(Why.BEYOND_BELIEF, wording.beyond_belief(number))
        self._in_a_row = 0
        if parts := parts_of(meaning, asked):
            self._told.tell(parts)
            whole = self._told.whole
            if whole is None:
                return Speaks(self.asking)
            meaning = whole
        self._bit_by_bit = False
        # A word in place of a number ("none") is not read back: it is no number misheard.
        instead = isinstance(meaning, Choice) and not isinstance(self.question, AskChoice)
        if not self.reads_back or instead:
            return Answered(meaning)
        self._pending = meaning
        return Speaks((wording.read_back(meaning),))

    def _count(self, why: Why) -> Failure:
        self._in_a_row += 1
        self.failures += 1
        return Failure(why, self.failures)

    def _fail(self, why: Why, lead: str) -> Reply:
        failure = self._count(why)
        if self._in_a_row > MOST_FAILURES:
            self.begin_anew()
            return GaveUp(failure)
        self._doubt = None
        return Speaks(self._in_other_words(why, lead), failure)

    def _in_other_words(self, why: Why, lead: str) -> tuple[str, ...]:
        if self._pending is not None:
            return (lead, tapering.read_back(self._pending, self._in_a_row))
        if self._in_a_row == 1:
            # In full where it may not have been heard, or where work comes before the answer.
            works = self.works and why is not Why.BEYOND_BELIEF
            full = why is Why.NOINPUT or (works and self.open_question == self.question)
            short = isinstance(self.question, AskDone) or not full
            asking = (tapering.shorter(self.open_question),) if short else self.asking
            return (lead, *asking)
        began, self._bit_by_bit = self._bit_by_bit, True
        bit = self.open_question
        helps = began or bit == self.question
        return (self.help() if helps else tapering.first_bit(bit),)


def _corrected(pending: Meaning, answer: Meaning) -> Meaning:
    """The answer in place of the pending one; contacts not mentioned stay as they were."""
    if isinstance(pending, ContactStates) and isinstance(answer, ContactStates):
        return ContactStates.of({**pending.mapping(), **answer.mapping()})
    return answer
