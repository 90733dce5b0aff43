"""The session: events in, effects out.

A session holds the place in the procedure, the open question and what was confirmed. It touches
no device, clock or file. The same events always give the same effects, so that a job is continued
after a power cut, reviewed and tested by replaying its journal through this same class.

What happens to an event: a reply that was not understood, and silence, go to the open question,
which asks again or gives up; a global command is obeyed; an answer goes to the open question, and
once it counts, the walk goes forward to the next step that needs a person.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from assistant.language.answers import AskYesNo, commands_only, grammar
from assistant.language.meaning import Command, ContactStates, Meaning, Word
from assistant.language.phrase_book import PhraseBook
from assistant.language.recognition import CONFIDENCE_LEVEL
from assistant.procedure.model import Ask, End, Hold
from assistant.procedure.program import Program
from assistant.session import wording
from assistant.session.dialogue import Answered, Dialogue, GaveUp, Range, Reply, Speaks
from assistant.session.effects import (
    Adjust,
    Adjustment,
    Confirmed,
    Effect,
    Finished,
    Held,
    Listen,
    Noted,
    Say,
)
from assistant.session.events import Event, Heard, Opened, Returned, Silent
from assistant.session.questions import READ_BACK, question_of, subject_of
from assistant.session.walk import Bookmark, Walk
from assistant.trade.unit import Unit

__all__ = ["Session"]

WAIT_FOR_A_WORD = 20.0
"""Seconds of silence after which a question is asked again."""

WAIT_FOR_WORK = 600.0
"""The same where the technician has something to do first."""


@dataclass(frozen=True, slots=True)
class _Open:
    """A question waits for its answer."""

    dialogue: Dialogue
    subject: str


@dataclass(frozen=True, slots=True)
class _OnHold:
    """The job is held: by a step of the procedure, or with a question that waits."""

    reason: str
    waiting: _Open | None


@dataclass(frozen=True, slots=True)
class _Noting:
    """Whatever is said next is a note."""

    before: _Open | _OnHold


@dataclass(frozen=True, slots=True)
class _GoingBack:
    """Going back is to be confirmed: it undoes an answer, and "go back" sounds like "correct"."""

    before: _Open | _OnHold


@dataclass(frozen=True, slots=True)
class _Over:
    """The job is done."""


class Session:
    """A job under way.

    Args:
        program: the checked procedure, which must fit the unit.
        unit: the unit that is worked on.
        book: the phrase book.
        confidence_level: below it, what was heard counts as not understood.
    """

    def __init__(
        self,
        program: Program,
        unit: Unit,
        book: PhraseBook,
        confidence_level: float = CONFIDENCE_LEVEL,
    ) -> None:
        self._title = program.procedure.title
        self._book = book
        self._level = confidence_level
        self._walk = Walk(program, unit)
        self._state: _Open | _OnHold | _Noting | _GoingBack | _Over = _OnHold("not begun", None)
        self._trail: list[Bookmark] = []
        self._reading: ContactStates | None = None
        self._questions = 0

    @property
    def step(self) -> str:
        """The step at which the job stands."""
        return self._walk.node.name

    @property
    def finished(self) -> bool:
        """Whether the job is done."""
        return isinstance(self._state, _Over)

    @property
    def held(self) -> bool:
        """Whether the job is on hold."""
        return isinstance(self._state, _OnHold)

    @property
    def questions(self) -> int:
        """How many questions have been answered so far."""
        return self._questions

    def receive(self, event: Event) -> tuple[Effect, ...]:
        """Take an event; answer what is to be done about it, in this order."""
        if self.finished:
            return ()
        effects = tuple(self._effects(event))
        return (*effects, *self._listen())

    def _effects(self, event: Event) -> Iterator[Effect]:
        match event:
            case Opened():
                yield from self._forward()
            case Returned():
                yield from self._returned()
            case Silent():
                yield from self._silent()
            case Heard(recognition=recognition):
                meaning = recognition.accepted(self._level)
                yield from self._heard(meaning)

    def _listen(self) -> Iterator[Effect]:
        match self._state:
            case _Open(dialogue, subject):
                works = bool(self._walk.node.step.acts) and dialogue.pending is None
                yield Listen(
                    grammar=dialogue.listening_to,
                    step=self.step,
                    question=dialogue.open_question,
                    read_back=dialogue.pending,
                    patience=WAIT_FOR_WORK if works else WAIT_FOR_A_WORD,
                    subject=subject,
                )
            case _GoingBack():
                yield Listen(
                    grammar=grammar(AskYesNo(), self._book),
                    step=self.step,
                    question=AskYesNo(),
                    read_back=Command(Word.GO_BACK),
                    patience=WAIT_FOR_A_WORD,
                )
            case _OnHold() | _Noting():
                yield Listen(commands_only(self._book), self.step, None, None, WAIT_FOR_WORK)

    # What was heard

    def _heard(self, meaning: Meaning | None) -> Iterator[Effect]:
        match self._state:
            case _Noting(before) if meaning != Command(Word.HOLD):
                self._state = before
                yield Noted()
                yield from self._say_again(wording.NOTED)
            case _Noting(before):
                self._state = before
                yield from self._hold("You said hold.")
            case _GoingBack(before):
                self._state = before
                yield from self._heard_going_back(meaning)
            case _OnHold():
                yield from self._heard_on_hold(meaning)
            case _Open(dialogue):
                yield from self._heard_open(dialogue, meaning)

    def _heard_open(self, dialogue: Dialogue, meaning: Meaning | None) -> Iterator[Effect]:
        if meaning is None:
            yield from self._reply(dialogue.miss())
        elif isinstance(meaning, Command) and meaning.word in _OBEY:
            yield from self._obey(meaning.word)
        else:
            yield from self._reply(dialogue.hear(meaning))

    def _heard_going_back(self, meaning: Meaning | None) -> Iterator[Effect]:
        match meaning:
            case Command(Word.YES):
                self._walk.return_to(self._trail.pop())
                yield Say(wording.WENT_BACK)
                yield from self._forward()
            case Command(word) if word in _OBEY:
                yield from self._obey(word)
            case _:
                yield from self._say_again("")

    def _heard_on_hold(self, meaning: Meaning | None) -> Iterator[Effect]:
        # What is not understood gets no reply here: talk around a held job is not for us.
        if isinstance(meaning, Command) and meaning.word in _OBEY:
            yield from self._obey(meaning.word)

    def _returned(self) -> Iterator[Effect]:
        match self._state:
            case _Open(dialogue):
                yield Say(wording.RETURNED)
                yield from self._walk.notices()
                yield Say(dialogue.asking_after_a_break)
            case _:
                yield from self._say_again(wording.RETURNED)

    def _silent(self) -> Iterator[Effect]:
        match self._state:
            case _Open(dialogue):
                yield from self._reply(dialogue.silence())
            case _Noting(before):
                self._state = before
                yield from self._say_again("No note was heard.")
            case _GoingBack(before):
                self._state = before
                yield from self._say_again("")

    # What follows from a reply

    def _reply(self, reply: Reply) -> Iterator[Effect]:
        match reply:
            case Speaks(text):
                yield Say(text)
            case GaveUp(reason):
                yield from self._hold(reason)
            case Answered(meaning):
                yield from self._answered(meaning)

    def _answered(self, meaning: Meaning) -> Iterator[Effect]:
        self._trail.append(self._walk.bookmark())
        self._questions += 1
        if isinstance(meaning, ContactStates):
            self._reading = meaning
        yield Confirmed(self.step, meaning)
        yield from self._walk.answer(meaning)
        yield from self._forward()

    def _forward(self) -> Iterator[Effect]:
        """Go to the next step that needs a person, and open its question."""
        yield from self._walk.forward()
        node = self._walk.node
        match node.step.action:
            case Ask() as ask:
                assert node.step.say is not None, "the reader demands 'say'"
                self._state = _Open(
                    Dialogue(
                        question=question_of(node, ask, self._walk.names),
                        prompt=self._walk.names.text(node, node.step.say),
                        reads_back=ask.kind in READ_BACK,
                        book=self._book,
                        believed=Range(ask.least, ask.most),
                    ),
                    subject_of(node, ask, self._walk.names),
                )
            case Hold(reason=template):
                reason = self._walk.names.text(node, template)
                self._state = _OnHold(reason, None)
                yield Held(reason)
                yield Say(f"{reason} {wording.ON_HOLD}")
            case End():
                self._state = _Over()
                yield Finished()

    # Commands

    def _obey(self, word: Word) -> Iterator[Effect]:
        yield from _OBEY[word](self)

    def _obey_hold(self) -> Iterator[Effect]:
        yield from self._hold("You said hold.")

    def _obey_carry_on(self) -> Iterator[Effect]:
        match self._state:
            case _OnHold() as on_hold:
                yield from self._carry_on(on_hold)
            case _:
                yield from self._say_again(wording.NOT_ON_HOLD)

    def _obey_say_again(self) -> Iterator[Effect]:
        yield from self._say_again("")

    def _obey_slower(self) -> Iterator[Effect]:
        yield Adjust(Adjustment.SLOWER)
        yield from self._say_again("")

    def _obey_louder(self) -> Iterator[Effect]:
        yield Adjust(Adjustment.LOUDER)
        yield from self._say_again("")

    def _obey_help(self) -> Iterator[Effect]:
        yield Say(
            self._state.dialogue.help() if isinstance(self._state, _Open) else wording.ON_HOLD
        )

    def _obey_where_am_i(self) -> Iterator[Effect]:
        yield Say(wording.whereabouts(self._title, self.step, self._asking()))

    def _obey_repeat_contacts(self) -> Iterator[Effect]:
        yield from self._say_again(wording.last_reading(self._reading))

    def _obey_go_back(self) -> Iterator[Effect]:
        if not self._trail:
            yield from self._say_again(wording.NO_STEP_BEFORE)
        elif isinstance(self._state, _Open | _OnHold):
            self._state = _GoingBack(self._state)
            yield Say(wording.GO_BACK)

    def _obey_note(self) -> Iterator[Effect]:
        if isinstance(self._state, _Open | _OnHold):
            self._state = _Noting(self._state)
            yield Say(wording.NOTE_NOW)

    def _hold(self, reason: str) -> Iterator[Effect]:
        match self._state:
            case _Open() as waiting:
                self._state = _OnHold(reason, waiting)
                yield Held(reason)
        yield Say(f"{reason} {wording.ON_HOLD}")

    def _carry_on(self, on_hold: _OnHold) -> Iterator[Effect]:
        yield Say(wording.CARRY_ON)
        if on_hold.waiting is not None:
            self._state = on_hold.waiting
            yield from self._walk.notices()
            yield Say(on_hold.waiting.dialogue.asking_after_a_break)
        else:
            self._walk.carry_on()
            yield from self._forward()

    def _asking(self) -> str:
        match self._state:
            case _Open(dialogue):
                return dialogue.asking
            case _OnHold(reason):
                return f"{reason} {wording.ON_HOLD}"
        return ""

    def _say_again(self, first: str) -> Iterator[Effect]:
        yield Say(f"{first} {self._asking()}".strip())


_OBEY: Mapping[Word, Callable[[Session], Iterator[Effect]]] = {
    Word.HOLD: Session._obey_hold,
    Word.CARRY_ON: Session._obey_carry_on,
    Word.SAY_AGAIN: Session._obey_say_again,
    Word.SLOWER: Session._obey_slower,
    Word.LOUDER: Session._obey_louder,
    Word.HELP: Session._obey_help,
    Word.WHERE_AM_I: Session._obey_where_am_i,
    Word.REPEAT_CONTACTS: Session._obey_repeat_contacts,
    Word.GO_BACK: Session._obey_go_back,
    Word.NOTE: Session._obey_note,
}
"""The commands that work at every step."""
