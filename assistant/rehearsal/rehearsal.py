"""One rehearsal: a session, a technician at the rig, and a log of what was said and done.

Time is the technician's own: what the work would take, and a few seconds for a reply. So the pace
at which a writer pages through changes nothing in what the procedure computes from moments.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeAlias

from assistant.language.commands import GLOBAL_WORDS
from assistant.language.meaning import Command, Meaning
from assistant.language.questions import Question
from assistant.language.recognition import Recognition
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.handling import Handling
from assistant.rehearsal.truth import Answer, true_answer
from assistant.rig.mistakes import Mistake
from assistant.rig.soundless_job import time_of
from assistant.rig.technician import Technician, TechnicianLost
from assistant.session.core import Session
from assistant.session.effects import Effect, Listen, listening
from assistant.session.events import Event, Heard, Opened, Returned, Silent

__all__ = ["Did", "Entry", "Exchange", "Mishap", "Rehearsal", "Said", "Waited", "question_at"]

Asked: TypeAlias = tuple[str, str, Question | None, bool]
"""A question: the step, what an aside is for, what is asked, and whether it is a read-back."""


@dataclass(frozen=True, slots=True)
class Said:
    """A reply, or silence, to a question."""

    asked: Asked
    recognition: Recognition | None


@dataclass(frozen=True, slots=True)
class Waited:
    """A break, after which the program was started again."""

    asked: Asked
    seconds: float


@dataclass(frozen=True, slots=True)
class Did:
    """Something done on the rig by the writer; None where what was asked for was done."""

    handling: Handling | None


@dataclass(frozen=True, slots=True)
class Mishap:
    """An error that is to be made."""

    mistake: Mistake


Entry = Said | Waited | Did | Mishap
"""What stands in a log."""


@dataclass(frozen=True, slots=True)
class Exchange:
    """An event, and what the session answered."""

    event: Event
    effects: tuple[Effect, ...]


Watcher = Callable[[Exchange], None]


def question_at(listen: Listen) -> Asked:
    """The question that is open."""
    return listen.step, listen.aside, listen.question, listen.read_back is not None


@dataclass(slots=True)
class Rehearsal:
    """A job on the rig that is played reply by reply, beginning at once.

    Args:
        bench: what is rehearsed.
        watch: is told every exchange.
    """

    bench: Bench
    watch: Watcher = lambda _exchange: None
    session: Session = field(init=False)
    technician: Technician = field(init=False)
    log: list[Entry] = field(default_factory=list, init=False)
    listen: Listen | None = field(default=None, init=False)
    last: Exchange = field(init=False)

    def __post_init__(self) -> None:
        self.session = self.bench.session()
        self.technician = self.bench.technician()
        self._receive(Opened(time_of(self.technician)))

    @property
    def asked(self) -> Asked | None:
        """The question that is open; None once the job is over."""
        return None if self.listen is None else question_at(self.listen)

    def hear(self, recognition: Recognition) -> None:
        """Take what the writer said; what was asked for is done before an answer."""
        self.prepare(recognition)
        self.say(recognition)

    def prepare(self, recognition: Recognition) -> str:
        """Do what was asked for, if this answers it.

        Returns:
            Why it could not be done on this rig; empty where it was.
        """
        meaning = recognition.accepted()
        if meaning is None or _is_command(meaning):
            return ""
        try:
            self.technician.take_over(meaning)
        except TechnicianLost as lost:
            self.technician.believe(meaning)
            return str(lost)
        return ""

    def say(self, recognition: Recognition) -> None:
        """Say this, with nothing done before it."""
        self.log.append(Said(question_at(self._open()), recognition))
        self._receive(Heard(time_of(self.technician), recognition))

    def silence(self) -> None:
        """Say nothing for as long as the session waits."""
        self.log.append(Said(question_at(self._open()), None))
        self.technician.seconds += self._open().patience
        self._receive(Silent(time_of(self.technician)))

    def come_back(self, seconds: float) -> None:
        """Be away for some time, and start the program again."""
        self.log.append(Waited(question_at(self._open()), seconds))
        self.technician.seconds += seconds
        self._receive(Returned(time_of(self.technician)))

    def answer(self) -> Answer:
        """Answer as a careful technician would, and tell what was answered."""
        answer = self.true_answer()
        self.give(answer.meaning)
        return answer

    def true_answer(self) -> Answer:
        """Do what was asked for, and tell what a careful technician would answer."""
        return true_answer(self.technician, self._open(), self.bench.program)

    def give(self, meaning: Meaning) -> None:
        """Say this, once what was asked for is done."""
        self.say(Recognition("", meaning, 1.0, 0.0, "rehearsal"))

    def work(self) -> None:
        """Do what was asked for, without answering; TechnicianLost where it cannot be done."""
        self.technician.work()
        self.log.append(Did(None))

    def handle(self, handling: Handling) -> None:
        """Do this on the rig in place of what was asked for; TechnicianLost where it cannot be."""
        handling.do(self.technician)
        self.log.append(Did(handling))

    def be_late(self, seconds: float) -> None:
        """Let time pass before the answer; back, where it is below 0, as by a clock set back."""

        def pass_time(technician: Technician) -> None:
            technician.seconds += seconds

        self.handle(Handling(f"{seconds:g} s late", pass_time))

    def err(self, mistake: Mistake) -> None:
        """Have this error made, once."""
        self.technician.mistake, self.technician.made = mistake, False
        self.log.append(Mishap(mistake))

    def _open(self) -> Listen:
        if self.listen is None:
            raise TechnicianLost("the job is over: nothing is asked")
        return self.listen

    def _receive(self, event: Event) -> None:
        effects = self.session.receive(event)
        self.technician.watch(event, effects)
        self.listen = listening(effects)
        self.last = Exchange(event, effects)
        self.watch(self.last)


def _is_command(meaning: Meaning) -> bool:
    return isinstance(meaning, Command) and meaning.word in GLOBAL_WORDS
