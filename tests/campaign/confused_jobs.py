"""One job in which the recogniser takes one reply for another, and what became of it."""

from __future__ import annotations

import enum
import functools
import random
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from assistant.language.english import english
from assistant.language.meaning import Command, Correction, Meaning, Word
from assistant.language.recognition import Recognition
from assistant.procedure.model import Ask
from assistant.procedure.papers import read_papers
from assistant.procedure.program import Program
from assistant.rig.actuator import Actuator
from assistant.rig.motor import Motor
from assistant.rig.random_units import unit_from
from assistant.rig.soundless_job import play
from assistant.rig.technician import Technician, TechnicianLost, plate_of
from assistant.session.core import Session
from assistant.session.effects import Confirmed, Effect, Listen
from tests.campaign.confusions import COMMANDS, Confusion, confusions_of
from tests.campaign.jobs import alarms, flagship, wrong_rotors
from tests.units import PAPERS

__all__ = ["Became", "ConfusedJob", "Spot", "play_confused", "spots_of", "without_read_back"]


class Became(enum.StrEnum):
    """What became of a confusion."""

    READ_BACK = "caught by read-back"
    ASKED = "asked about first"
    LATER = "caught later"
    HARMLESS = "harmless"
    NOT_CAUGHT = "not caught, a rotor wrong"


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a confusion can be made.

    Args:
        reply: the how-manieth reply of the job it is, from 0.
        step: the step at which it is given.
        confusion: what it is taken for.
    """

    reply: int
    step: str
    confusion: Confusion


@dataclass(slots=True)
class ConfusedJob:
    """A recogniser that takes one reply of a job for another, and everything else as it was said.

    Args:
        at: where; None to hear everything right.
        spots: where confusions could have been made.
        became: what became of the confusion.
        usual: what the program finds amiss in this job without any confusion.
        amiss: what it found amiss.
    """

    at: Spot | None
    usual: frozenset[Effect] = frozenset()
    amiss: set[Effect] = field(default_factory=set)
    spots: list[Spot] = field(default_factory=list)
    became: Became | None = None
    finished: bool = False
    wrong: tuple[str, ...] = ()
    _replies: int = 0
    _made: bool = False
    _open: bool = False

    def hear(self, technician: Technician, listen: Listen) -> Recognition:
        """Hear a reply, wrongly at the one place."""
        said = technician.answer()
        if self.at is None and listen.aside not in ("hold", "note"):
            found = confusions_of(said, listen)
            self.spots.extend(Spot(self._replies, listen.step, confusion) for confusion in found)
        self._notice(said, listen)
        if self.at is not None and self._replies == self.at.reply:
            said = self.at.confusion.heard
            self._made = self._open = True
        self._replies += 1
        return Recognition("", said, 1.0, 0.0, "confused")

    def _notice(self, said: Meaning, listen: Listen) -> None:
        """Whether the person, hearing what the program says now, objects."""
        if not self._open or self.became is not None:
            return
        if listen.read_back is not None and (
            isinstance(said, Correction) or said == Command(Word.NO)
        ):
            self.became = Became.READ_BACK
        elif self._is_command() and listen.aside:
            self.became = Became.ASKED

    def _is_command(self) -> bool:
        heard = None if self.at is None else self.at.confusion.heard
        return isinstance(heard, Command) and heard.word in COMMANDS

    def watch(self, effects: tuple[Effect, ...]) -> None:
        """Whether the program notices by itself."""
        amiss = {effect for effect in effects if alarms(effect)} - self.usual
        self.amiss |= amiss
        if self._made and self.became is None and amiss:
            asks = any(isinstance(effect, Listen) and effect.aside for effect in effects)
            self.became = Became.ASKED if asks and self._is_command() else Became.LATER
        if any(isinstance(effect, Confirmed) for effect in effects) and self._made:
            self._open = False


def play_confused(seed: int, at: Spot | None, *, reading_back: bool = True) -> ConfusedJob:
    """Play one job on the unit of this seed."""
    unit, gearings = unit_from(random.Random(seed))
    rig = Actuator(unit, gearings, position=random.Random(seed).uniform(5, 95))
    technician = Technician(rig, plate_of(unit), Motor(rig, seconds=60.0))
    program = flagship() if reading_back else without_read_back()
    session = Session(program, unit, english(), read_papers(program, PAPERS))
    job = ConfusedJob(at, frozenset() if at is None else _usual(seed, reading_back))
    try:
        for _event, effects in play(session, technician, job.hear):
            job.watch(effects)
    except TechnicianLost:
        job.became = job.became or Became.LATER
    job.finished = session.finished
    job.wrong = wrong_rotors(rig)
    if job.finished and job.wrong:
        job.became = Became.NOT_CAUGHT
    if at is not None and job.became is None:
        job.became = Became.HARMLESS
    return job


@functools.lru_cache(100)
def _usual(seed: int, reading_back: bool) -> frozenset[Effect]:
    """A count in quarter turns makes a shaft too fast that was turned little, for example."""
    return frozenset(play_confused(seed, None, reading_back=reading_back).amiss)


def spots_of(seed: int, *, reading_back: bool = True) -> Iterator[Spot]:
    """Every confusion that can be made in the job on the unit of this seed."""
    yield from play_confused(seed, None, reading_back=reading_back).spots


@functools.cache
def without_read_back() -> Program:
    """The shipped procedure with nothing read back."""
    program = flagship()
    nodes = {
        name: replace(node, step=replace(node.step, action=replace(ask, read_back=False)))
        if isinstance(ask := node.step.action, Ask)
        else node
        for name, node in program.nodes.items()
    }
    return replace(program, nodes=nodes)
