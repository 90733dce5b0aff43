"""The session: events in, effects out.

A session holds the place in the procedure, the open question and what was confirmed. It touches
no device, clock or file. The same events always give the same effects, so that a job is continued
after a power cut, reviewed and tested by replaying its journal through this same class.

What happens to an event: a reply that was not understood, and silence, go to the open question,
which asks again or gives up; a global command is obeyed; an answer goes to the open question, and
once it counts, the walk goes forward to the next step that needs a person. Before a step may have
something forbidden done, the session asks for what is missing (`restoring`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from assistant.language.answers import AskChoice, AskYesNo, Question, commands_only
from assistant.language.meaning import Choice, Command, ContactStates, Meaning, Word
from assistant.language.phrase_book import PhraseBook
from assistant.language.recognition import CONFIDENCE_LEVEL
from assistant.procedure.deeds import Fact
from assistant.procedure.model import Ask, End, Hold
from assistant.procedure.program import Program
from assistant.procedure.values import Value
from assistant.session import wording
from assistant.session.dialogue import Answered, Dialogue, GaveUp, Range, Reply, Speaks
from assistant.session.effects import (
    Adjust,
    Adjustment,
    Confirmed,
    Effect,
    Finished,
    Held,
    HoldClosed,
    Listen,
    Noted,
    Proved,
    Request,
    Say,
    Skipped,
    WentBack,
)
from assistant.session.events import Event, Heard, Opened, Returned, Silent, moment_of
from assistant.session.putting_back import put_back
from assistant.session.questions import READ_BACK, most_of, question_of, subject_of
from assistant.session.restoring import AFTER_A_BREAK, LONG_BREAK, prompt_for, with_the_gate
from assistant.session.states import Aside, Keeping, OnHold, Open, Over, Purpose, State
from assistant.session.walk import Bookmark, Walk
from assistant.trade.unit import Unit

__all__ = ["Session"]

WAIT_FOR_A_WORD = 20.0
"""Seconds of silence after which a question is asked again."""

WAIT_FOR_WORK = 600.0
"""The same where the technician has something to do first."""

ROLES = ("technician", "checker")
"""Who can answer for a hold that is closed, and for a step that is skipped."""


@dataclass(frozen=True, slots=True)
class _Answer:
    """An answer that counts: where the walk to its question began, and what was told on it."""

    mark: Bookmark
    told: tuple[Request, ...]


class Session:
    """A job under way.

    Args:
        program: the checked procedure, which must fit the unit.
        unit: the unit that is worked on; None for a procedure that needs none.
        book: the phrase book.
        papers: what was told about the job before it began, by name.
        confidence_level: below it, what was heard counts as not understood.
    """

    def __init__(
        self,
        program: Program,
        unit: Unit | None,
        book: PhraseBook,
        papers: Mapping[str, Value] | None = None,
        confidence_level: float = CONFIDENCE_LEVEL,
    ) -> None:
        self._title = program.procedure.title
        self._book = book
        self._level = confidence_level
        self._walk = Walk(program, unit, papers or {})
        self._now = datetime.min.replace(tzinfo=UTC)
        self._state: State = OnHold("not begun", None, self._now)
        self._mark = self._walk.bookmark()
        self._trail: list[_Answer] = []
        self._reading: ContactStates | None = None
        self._said_at = self._now
        self._questions = 0

    @property
    def step(self) -> str:
        """The step at which the job stands."""
        return self._walk.node.name

    @property
    def known(self) -> frozenset[Fact]:
        """What is known of the valve."""
        return self._walk.known

    @property
    def finished(self) -> bool:
        """Whether the job is done."""
        return isinstance(self._state, Over)

    @property
    def held(self) -> bool:
        """Whether the job is on hold."""
        return isinstance(self._state, OnHold)

    @property
    def questions(self) -> int:
        """How many questions have been answered so far."""
        return self._questions

    def receive(self, event: Event) -> tuple[Effect, ...]:
        """Take an event; answer what is to be done about it, in this order."""
        if self.finished:
            return ()
        before, self._now = self._now, moment_of(event)
        effects = tuple(self._effects(event, before))
        return (*effects, *self._listen())

    def _effects(self, event: Event, before: datetime) -> Iterator[Effect]:
        match event:
            case Opened():
                yield from self._forward()
            case Returned():
                yield from self._returned(before)
            case Silent():
                yield from self._silent()
            case Heard(recognition=recognition):
                meaning = recognition.accepted(self._level)
                yield from self._heard(meaning)

    def _listen(self) -> Iterator[Effect]:
        match self._state:
            case Open(dialogue, subject):
                works = dialogue.works and dialogue.pending is None
                yield Listen(
                    grammar=dialogue.listening_to,
                    step=self.step,
                    question=dialogue.open_question,
                    read_back=dialogue.pending,
                    patience=WAIT_FOR_WORK if works else WAIT_FOR_A_WORD,
                    subject=subject,
                )
            case Aside(purpose, dialogue, _, facts):
                yield Listen(
                    grammar=dialogue.listening_to,
                    step=self.step,
                    question=dialogue.question,
                    read_back=None,
                    patience=WAIT_FOR_WORK if purpose is Purpose.RESTORE else WAIT_FOR_A_WORD,
                    subject=facts[0].value if facts else "",
                    aside=purpose.value,
                )
            case OnHold() | Keeping() as state:
                yield Listen(
                    grammar=commands_only(self._book),
                    step=self.step,
                    question=None,
                    read_back=None,
                    patience=WAIT_FOR_WORK,
                    aside="note" if isinstance(state, Keeping) else "hold",
                )

    # What was heard

    def _heard(self, meaning: Meaning | None) -> Iterator[Effect]:
        match self._state:
            case Keeping() as keeping:
                yield from self._keep(keeping, meaning)
            case OnHold():
                # What is not understood gets no reply: talk around a held job is not for us.
                if isinstance(meaning, Command) and meaning.word in _OBEY:
                    yield from self._obey(meaning.word)
            case Aside(Purpose.GO_BACK | Purpose.SKIP) if meaning is None:
                yield from self._gave_up("")
            case Open(dialogue) | Aside(dialogue=dialogue):
                yield from self._heard_open(dialogue, meaning)

    def _heard_open(self, dialogue: Dialogue, meaning: Meaning | None) -> Iterator[Effect]:
        if meaning is None:
            yield from self._reply(dialogue.miss())
        elif isinstance(meaning, Command) and meaning.word in _OBEY:
            yield from self._obey(meaning.word)
        else:
            if dialogue.pending is None:
                # What is read back was said now, and not when it is confirmed.
                self._said_at = self._now
            yield from self._reply(dialogue.hear(meaning))

    def _keep(self, keeping: Keeping, meaning: Meaning | None) -> Iterator[Effect]:
        self._state = keeping.before
        match keeping.then:
            case _ if meaning == Command(Word.HOLD):
                yield from self._hold("You said hold.")
            case None:
                yield Noted()
                yield from self._say_again(wording.NOTED)
            case Purpose.WHO_CLOSES:
                yield Noted()
                yield from self._ask_aside(keeping.then, AskChoice(ROLES), wording.WHO_CLOSES)
            case _:
                yield Noted()
                yield from self._ask_aside(keeping.then, AskChoice(ROLES), wording.WHO_SKIPS)

    def _returned(self, before: datetime) -> Iterator[Effect]:
        match self._state:
            case Open() as waiting:
                yield Say(wording.RETURNED)
                yield from self._after_a_break(waiting, before)
            case Aside() | OnHold() | Keeping():
                yield from self._say_again(wording.RETURNED)

    def _silent(self) -> Iterator[Effect]:
        match self._state:
            case Aside(Purpose.GO_BACK | Purpose.SKIP):
                yield from self._gave_up("")
            case Open(dialogue) | Aside(dialogue=dialogue):
                yield from self._reply(dialogue.silence())
            case Keeping(before, None):
                self._state = before
                yield from self._say_again("No note was heard.")
            case Keeping():
                yield Say(wording.SAY_WHY)

    # What follows from a reply

    def _reply(self, reply: Reply) -> Iterator[Effect]:
        match reply:
            case Speaks(text):
                yield Say(text)
            case GaveUp(reason):
                yield from self._gave_up(reason)
            case Answered(meaning) if isinstance(self._state, Aside):
                yield from self._answered_aside(self._state, meaning)
            case Answered(meaning):
                yield from self._answered(meaning)

    def _gave_up(self, reason: str) -> Iterator[Effect]:
        match self._state:
            case Aside(Purpose.GO_BACK | Purpose.SKIP, _, Open() | OnHold() as before):
                self._state = before
                yield from self._say_again("")
            case _:
                yield from self._hold(reason)

    def _answered(self, meaning: Meaning) -> Iterator[Effect]:
        self._trail.append(_Answer(self._mark, tuple(self._walk.told)))
        self._questions += 1
        if isinstance(meaning, ContactStates):
            self._reading = meaning
        yield Confirmed(self.step, meaning)
        yield from self._walk.answer(meaning, self._said_at)
        yield from self._forward()

    def _forward(self) -> Iterator[Effect]:
        """Go to the next step that needs a person, and open its question."""
        self._mark = self._walk.bookmark()
        yield from self._go_on()

    def _go_on(self) -> Iterator[Effect]:
        yield from self._walk.forward()
        if missing := self._walk.missing():
            yield from self._restore(with_the_gate(missing, self._walk.known), None)
            return
        node = self._walk.node
        match node.step.action:
            case Ask() as ask:
                self._state = Open(
                    Dialogue(
                        question=question_of(node, ask, self._walk.names),
                        prompt=self._walk.prompt,
                        reads_back=ask.kind in READ_BACK,
                        book=self._book,
                        believed=Range(ask.least, most_of(node, ask, self._walk.names)),
                        works=bool(self._walk.told),
                    ),
                    subject_of(node, ask, self._walk.names),
                )
            case Hold(reason=template):
                reason = self._walk.names.text(node, template)
                self._state = OnHold(reason, None, self._now)
                yield Held(reason)
                yield Say(f"{reason} {wording.ON_HOLD}")
            case End():
                self._state = Over()
                yield Finished()

    # Questions that no step asks

    def _ask_aside(
        self,
        purpose: Purpose,
        question: Question,
        prompt: str,
        facts: tuple[Fact, ...] = (),
        before: Open | OnHold | None = None,
    ) -> Iterator[Effect]:
        if isinstance(self._state, Open | OnHold):
            before = before or self._state
        dialogue = Dialogue(question, prompt, reads_back=False, book=self._book)
        self._state = Aside(purpose, dialogue, before, facts)
        yield Say(prompt)

    def _answered_aside(self, aside: Aside, meaning: Meaning) -> Iterator[Effect]:
        agreed = meaning == Command(Word.YES)
        match aside.purpose, aside.before, meaning:
            case Purpose.RESTORE, _, _:
                yield from self._restored(aside, agreed)
            case Purpose.AS_LEFT, Open() as before, _:
                yield from self._as_left(before, agreed)
            case Purpose.WHO_CLOSES, OnHold(reason=reason), Choice(role):
                yield HoldClosed(reason, role)
                yield Say(wording.CARRY_ON)
                yield from self._walk.carry_on()
                yield from self._forward()
            case Purpose.WHO_SKIPS, _, Choice(role):
                yield Skipped(self.step, role)
                yield Say(wording.SKIPPED)
                yield from self._walk.pass_over()
                yield from self._forward()
            case Purpose.GO_BACK, _, _ if agreed:
                yield from self._go_back()
            case Purpose.SKIP, Open() as before, _ if agreed:
                self._state = Keeping(before, Purpose.WHO_SKIPS)
                yield Say(wording.SAY_WHY)
            case _, Open() | OnHold() as before, _:
                self._state = before
                yield from self._say_again("")

    def _go_back(self) -> Iterator[Effect]:
        answer = self._trail.pop()
        undo = put_back((*answer.told, *self._walk.told))
        self._walk.return_to(answer.mark)
        yield Say(f"{wording.WENT_BACK} {undo}".strip())
        yield WentBack(answer.mark.node)
        yield from self._forward()

    def _restore(self, facts: tuple[Fact, ...], before: Open | None) -> Iterator[Effect]:
        """Ask for the first of the missing facts; `before` is the question that waits for them."""
        first = facts[0]
        dialogue = Dialogue(AskYesNo(), prompt_for(first), reads_back=False, book=self._book)
        self._state = Aside(Purpose.RESTORE, dialogue, before, facts)
        yield Say(prompt_for(first))

    def _restored(self, aside: Aside, agreed: bool) -> Iterator[Effect]:
        if not agreed:
            yield from self._hold("That comes first.")
            return
        first, *others = aside.facts
        self._walk.prove(first)
        yield Proved(first)
        before = aside.before if isinstance(aside.before, Open) else None
        if others:
            yield from self._restore(tuple(others), before)
        elif before is not None:
            yield from self._reopen(before)
        else:
            yield from self._go_on()

    def _after_a_break(self, waiting: Open, since: datetime) -> Iterator[Effect]:
        """Go on with a question; after a long break only once it is known how the valve stands."""
        if (self._now - since).total_seconds() < LONG_BREAK:
            yield from self._reopen(waiting)
            return
        lost = self._walk.known - {Fact.ROD_OUT}
        self._walk.known -= lost
        again = tuple(fact for fact in Fact if fact in lost & AFTER_A_BREAK)
        yield from self._ask_aside(
            Purpose.AS_LEFT, AskYesNo(), wording.AS_LEFT, facts=again, before=waiting
        )

    def _as_left(self, before: Open, agreed: bool) -> Iterator[Effect]:
        facts = self._state.facts if isinstance(self._state, Aside) else ()
        if not agreed:
            yield from self._hold(wording.MOVED_MEANWHILE)
        elif facts:
            yield from self._restore(facts, before)
        else:
            yield from self._reopen(before)

    def _reopen(self, waiting: Open) -> Iterator[Effect]:
        self._state = waiting
        yield from self._walk.notices()
        yield Say(waiting.dialogue.asking)

    # Commands

    def _obey(self, word: Word) -> Iterator[Effect]:
        yield from _OBEY[word](self)

    def _obey_hold(self) -> Iterator[Effect]:
        if Fact.ENERGISED in self._walk.known:
            yield from self._hold(f"You said stop. {wording.STOPPED_ENERGISED}")
        else:
            yield from self._hold("You said hold.")

    def _obey_carry_on(self) -> Iterator[Effect]:
        match self._state:
            case OnHold(waiting=None) as on_hold:
                self._state = Keeping(on_hold, Purpose.WHO_CLOSES)
                yield Say(wording.WHAT_WAS_DONE)
            case OnHold(waiting=Open() as waiting, since=since):
                yield Say(wording.CARRY_ON)
                yield from self._after_a_break(waiting, since)
            case OnHold(waiting=Aside() as waiting):
                self._state = waiting
                yield from self._say_again(wording.CARRY_ON)
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
        match self._state:
            case Open(dialogue) | Aside(dialogue=dialogue):
                yield Say(dialogue.help())
            case _:
                yield Say(wording.ON_HOLD)

    def _obey_where_am_i(self) -> Iterator[Effect]:
        yield Say(wording.whereabouts(self._title, self.step, self._asking()))

    def _obey_repeat_contacts(self) -> Iterator[Effect]:
        yield from self._say_again(wording.last_reading(self._reading))

    def _obey_go_back(self) -> Iterator[Effect]:
        match self._state:
            case OnHold(waiting=None):
                yield from self._say_again(wording.CLOSE_THE_HOLD)
            case Open() | OnHold() if self._trail:
                yield from self._ask_aside(Purpose.GO_BACK, AskYesNo(), wording.GO_BACK)
            case Open() | OnHold():
                yield from self._say_again(wording.NO_STEP_BEFORE)
            case _:
                yield from self._say_again("")

    def _obey_skip(self) -> Iterator[Effect]:
        match self._state:
            case Open() if self._walk.node.step.may_skip:
                yield from self._ask_aside(Purpose.SKIP, AskYesNo(), wording.SKIP)
            case _:
                yield from self._say_again(wording.NOT_TO_BE_SKIPPED)

    def _obey_note(self) -> Iterator[Effect]:
        match self._state:
            case Open() | OnHold() as before:
                self._state = Keeping(before)
                yield Say(wording.NOTE_NOW)
            case _:
                yield from self._say_again("")

    def _hold(self, reason: str) -> Iterator[Effect]:
        match self._state:
            case Open() | Aside() as waiting:
                self._state = OnHold(reason, waiting, self._now)
                yield Held(reason)
        yield Say(f"{reason} {wording.ON_HOLD}")

    def _asking(self) -> str:
        match self._state:
            case Open(dialogue) | Aside(dialogue=dialogue):
                return dialogue.asking
            case OnHold(reason):
                return f"{reason} {wording.ON_HOLD}"
            case Keeping():
                return wording.SAY_WHY
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
    Word.SKIP: Session._obey_skip,
    Word.NOTE: Session._obey_note,
}
"""The commands that work at every step."""
