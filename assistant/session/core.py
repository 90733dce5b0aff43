"""The session: events in, effects out.

A session holds the place in the procedure, the open question and what was confirmed. It touches
no device, clock or file. The same events always give the same effects, so that a job is continued
after a power cut, reviewed and tested by replaying its journal through this same class.

What happens to an event: a reply that was not understood, and silence, go to the open question,
which asks again or gives up; a global command is obeyed (`commands`); an answer goes to the open
question, and once it counts, the `job` goes forward to the next step that needs a person. Before a
step may have something forbidden done, the session asks for what is missing (`restoring`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.language.answers import commands_only
from assistant.language.meaning import Command, Meaning
from assistant.language.phrase_book import PhraseBook
from assistant.language.recognition import Unclear
from assistant.procedure.deeds import Fact
from assistant.procedure.program import Program
from assistant.procedure.values import Value
from assistant.session import wording
from assistant.session.asides import answered_aside
from assistant.session.breaks import after_a_break, after_silence, answers_too_late, resume_aside
from assistant.session.commands import OBEY
from assistant.session.dialogue import Dialogue
from assistant.session.effects import Effect, Failed, Listen, Say
from assistant.session.events import Event, Heard, Opened, Returned, Silent, moment_of
from assistant.session.holds import GAVE_UP
from assistant.session.job import Job
from assistant.session.keeping import hear_words, silence
from assistant.session.older_keeping import hear_anything, hear_nothing
from assistant.session.replies import Answered, Failure, GaveUp, Reply, Speaks, Why
from assistant.session.rules import Rules
from assistant.session.states import Aside, Keeping, OnHold, Open, Over, Purpose
from assistant.trade.unit import Unit

__all__ = ["Session"]

WAIT_FOR_A_WORD = 20.0
"""Seconds of silence after which a question is asked again."""

WAIT_FOR_WORK = 600.0
"""The same where the technician has something to do first."""


class Session:
    """A job under way.

    Args:
        program: the checked procedure, which must fit the unit.
        unit: the unit that is worked on; None for a procedure that needs none.
        book: the phrase book.
        papers: what was told about the job before it began, by name.
    """

    def __init__(
        self,
        program: Program,
        unit: Unit | None,
        book: PhraseBook,
        papers: Mapping[str, Value] | None = None,
    ) -> None:
        self._job = Job(program, unit, book, papers or {})

    @property
    def step(self) -> str:
        """The step at which the job stands."""
        return self._job.step

    @property
    def known(self) -> frozenset[Fact]:
        """What is known of the valve."""
        return self._job.walk.known

    @property
    def supply_may_be_on(self) -> bool:
        """Whether the motor may run: it was to be switched on, and is not proved dead since."""
        return self._job.walk.supply_may_be_on

    @property
    def finished(self) -> bool:
        """Whether the job is done."""
        return isinstance(self._job.state, Over)

    @property
    def held(self) -> bool:
        """Whether the job is on hold."""
        return isinstance(self._job.state, OnHold)

    @property
    def questions(self) -> int:
        """How many questions have been answered so far."""
        return self._job.questions

    def receive(self, event: Event) -> tuple[Effect, ...]:
        """Take an event; answer what is to be done about it, in this order."""
        if self.finished:
            return ()
        self._job.now = moment_of(event)
        if _is_of_a_person(event):
            self._job.attend()
        effects = tuple(self._effects(event))
        return (*effects, *self._listen())

    def _effects(self, event: Event) -> Iterator[Effect]:
        match event:
            case Opened(rules=rules):
                self._job.rules, self._job.attended = rules, self._job.now
                yield from self._job.forward()
            case Returned():
                yield from self._returned()
            case Silent():
                yield from self._silent()
            case Heard():
                yield from self._heard(event)

    def _listen(self) -> Iterator[Effect]:
        match self._job.state:
            case Open(dialogue, subject):
                works = self._job.has_work and dialogue.pending is None
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
                    question=dialogue.open_question,
                    read_back=None,
                    patience=WAIT_FOR_WORK if purpose is Purpose.RESTORE else WAIT_FOR_A_WORD,
                    subject=facts[0].value if facts else "",
                    aside=purpose.value,
                )
            case OnHold() | Keeping() as state:
                yield Listen(
                    grammar=commands_only(self._job.book),
                    step=self.step,
                    question=None,
                    read_back=None,
                    patience=WAIT_FOR_WORK,
                    aside="note" if isinstance(state, Keeping) else "hold",
                )

    # What was heard

    def _heard(self, heard: Heard) -> Iterator[Effect]:
        meaning, unclear = heard.recognition.accepted(), heard.recognition.unclear()
        match self._job.state:
            case Keeping() as keeping if self._job.rules is Rules.FIRST:
                yield from hear_anything(self._job, keeping, meaning)
            case Keeping() as keeping:
                if isinstance(meaning, Command) and meaning.word in OBEY:
                    yield from OBEY[meaning.word](self._job)
                else:
                    yield from hear_words(self._job, keeping, heard)
            case OnHold():
                # What is not understood gets no reply: talk around a held job is not for us.
                if isinstance(meaning, Command) and meaning.word in OBEY:
                    yield from OBEY[meaning.word](self._job)
            case Aside(Purpose.GO_BACK | Purpose.SKIP) if meaning is None:
                yield from self._gave_up(Failure(Why.NOMATCH, 1))
            case Open(dialogue) | Aside(dialogue=dialogue):
                yield from self._heard_open(dialogue, meaning, unclear)

    def _heard_open(
        self, dialogue: Dialogue, meaning: Meaning | None, unclear: Unclear | None
    ) -> Iterator[Effect]:
        if isinstance(meaning, Command) and meaning.word in OBEY:
            if self._job.rules >= Rules.THIRD:
                dialogue.settle(meaning)
            yield from OBEY[meaning.word](self._job)
        elif meaning is None and unclear is None:
            yield from self._reply(dialogue.miss())
        elif answers_too_late(self._job):
            yield from after_silence(self._job, wording.LONG_SILENCE)
        elif unclear is not None:
            yield from self._reply(dialogue.hear_unclear(unclear))
            self._job.first_said.doubt(dialogue, self._job.now)
        elif meaning is not None:
            self._note_moment(dialogue, meaning)
            yield from self._reply(dialogue.hear(meaning))

    def _note_moment(self, dialogue: Dialogue, meaning: Meaning) -> None:
        if self._job.rules >= Rules.THIRD and dialogue.is_neither(meaning):
            self._job.first_said.neither()
        elif isinstance(self._job.state, Open):
            self._job.first_said.note(dialogue, self._job.now)

    def _returned(self) -> Iterator[Effect]:
        before = self._job.attended
        self._job.lose_moments()
        match self._job.state:
            case (Open() as waiting) | Keeping(before=Open() as waiting):
                yield Say(wording.RETURNED)
                yield from after_a_break(self._job, waiting, before)
            case (Aside() as aside) | Keeping(before=Aside() as aside):
                yield Say(wording.RETURNED)
                yield from resume_aside(self._job, aside, before)
            case OnHold() | Keeping():
                yield from self._job.say_again(wording.RETURNED)

    def _silent(self) -> Iterator[Effect]:
        match self._job.state:
            case Aside(Purpose.GO_BACK | Purpose.SKIP):
                yield from self._gave_up(Failure(Why.NOINPUT, 1))
            case Open(dialogue) | Aside(dialogue=dialogue):
                yield from self._reply(dialogue.silence())
            case Keeping() as keeping if self._job.rules is Rules.FIRST:
                yield from hear_nothing(self._job, keeping)
            case Keeping() as keeping:
                yield from silence(self._job, keeping)

    # What follows from a reply

    def _reply(self, reply: Reply) -> Iterator[Effect]:
        match reply:
            case Speaks(sentences, failure):
                if failure is not None:
                    yield Failed(failure)
                yield from map(Say, sentences)
            case GaveUp(failure):
                yield from self._gave_up(failure)
            case Answered(meaning) if isinstance(self._job.state, Aside):
                yield from answered_aside(self._job, self._job.state, meaning)
            case Answered(meaning):
                yield from self._job.answered(meaning, self._job.first_said.at)

    def _gave_up(self, failure: Failure) -> Iterator[Effect]:
        yield Failed(failure)
        match self._job.state:
            case Aside(Purpose.GO_BACK | Purpose.SKIP, before=Open() | OnHold() as before):
                yield from self._job.return_to(before)
            case _:
                yield from self._job.hold(GAVE_UP[failure.why])


def _is_of_a_person(event: Event) -> bool:
    """Whether somebody is known to be there: silence and talk around tell nothing."""
    return isinstance(event, Heard) and event.recognition.accepted() is not None
