"""One job of the campaign: a random unit, one human error or none, and what became of it."""

from __future__ import annotations

import enum
import functools
import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from assistant.language.english import english
from assistant.procedure.deeds import ActKind
from assistant.procedure.load import load_program
from assistant.procedure.papers import read_papers
from assistant.procedure.program import Program
from assistant.rig.actuator import Actuator
from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.rig.motor import Motor
from assistant.rig.random_units import unit_from
from assistant.rig.soundless_job import in_meanings, play
from assistant.rig.technician import Technician, TechnicianLost, plate_of
from assistant.session.core import Session
from assistant.session.effects import (
    Begun,
    Deviated,
    Done,
    Effect,
    Held,
    Listen,
    Request,
)
from assistant.trade.unit import Seating, Unit
from tests.units import PAPERS

__all__ = [
    "Caught",
    "Place",
    "Report",
    "alarms",
    "flagship",
    "mistakes_at",
    "mistakes_of_papers",
    "play_job",
    "wrong_rotors",
]

CRANKING = frozenset(
    {ActKind.CRANK, ActKind.CRANK_TO_STOP, ActKind.CRANK_SLOWLY, ActKind.CRANK_TO_MIDDLE}
)

ALARMS = frozenset(
    {
        "again",
        "otherwise",
        "impossible",
        "disagree",
        "contradiction",
        "different",
        "differs",
        "inverted",
        "unclear",
        "free",
        "mismatch",
        "too-fast",
        "beyond",
        "not-agreed",
        "ends-early",
        "short",
        "on-the-stop",
    }
)
"""Outcomes of steps by which the program says that something is not as it should be."""


_NO_ALARM = ("/go-on", "/two-people")
"""Each round of the sweep is a repeat, and people should be different."""


class Caught(enum.StrEnum):
    """When an error was noticed."""

    BEFORE_THE_NEXT_CRANK = "before the next crank"
    BEFORE_ENERGISING = "before energising"
    AT_THE_PROOF = "at the proof by hand"
    AT_THE_TEST = "at the electrical test"
    UNNOTICED = "not, and every rotor right at the end"
    HARMFUL = "not, and done with a rotor wrong"


@dataclass(frozen=True, slots=True)
class Place:
    """Where an error can be made: a step, and what it asks or has done there."""

    step: str
    what: str
    options: int = 0


@dataclass(slots=True)
class Report:
    """What became of a job.

    Args:
        seed: of the unit.
        mistake: the error that was to be made.
        made: whether there was an occasion to make it.
        caught: when it was noticed; None for a job without an error.
        finished: whether the job ended done.
        held: the reasons of its holds.
        wrong: the rotors that are inverted or off by more than the tolerance.
        questions: questions answered.
        places: where errors could be made.
    """

    seed: int
    mistake: Mistake | None
    made: bool = False
    caught: Caught | None = None
    finished: bool = False
    held: list[str] = field(default_factory=list)
    wrong: tuple[str, ...] = ()
    questions: int = 0
    places: list[Place] = field(default_factory=list)


@functools.cache
def flagship() -> Program:
    """The shipped procedure."""
    return load_program(Path(__file__).parents[2] / "procedures" / "set-geared-limits.yaml")


def play_job(seed: int, mistake: Mistake | None = None) -> Report:
    """Play one job on the unit of this seed."""
    unit, gearings = unit_from(random.Random(seed))
    rig = Actuator(unit, gearings, position=random.Random(seed).uniform(5, 95))
    technician = Technician(rig, _plate(unit, mistake), Motor(rig, seconds=60.0), mistake=mistake)
    session = Session(flagship(), unit, english(), read_papers(flagship(), PAPERS))
    report = Report(seed, mistake)
    try:
        _watch(report, session, technician)
    except TechnicianLost as lost:
        report.held.append(f"left: {lost}")
        report.caught = report.caught or _now(session.step)
    report.made = technician.made or _is_of_the_plate(mistake)
    report.finished = session.finished
    report.questions = session.questions
    report.wrong = wrong_rotors(rig)
    if report.caught is None and mistake is not None:
        harmful = report.finished and report.wrong
        report.caught = Caught.HARMFUL if harmful else Caught.UNNOTICED
    return report


def _plate(unit: Unit, mistake: Mistake | None) -> dict[str, str]:
    plate = plate_of(unit)
    match mistake:
        case Mistake(kind=MistakeKind.WRONG_SHEET):
            plate["unit.tag"] = "KF99X"
        case Mistake(kind=MistakeKind.REVISION_DIFFERS):
            plate["unit.revision"] = "Z9"
    return plate


def _is_of_the_plate(mistake: Mistake | None) -> bool:
    return mistake is not None and mistake.kind in (
        MistakeKind.WRONG_SHEET,
        MistakeKind.REVISION_DIFFERS,
        MistakeKind.CHECKER_COPIES,
    )


def _watch(report: Report, session: Session, technician: Technician) -> None:
    cranked = False
    doing = ""
    for _event, effects in play(session, technician, in_meanings):
        made = technician.made or _is_of_the_plate(report.mistake)
        for effect in effects:
            if made and report.caught is None and alarms(effect):
                report.caught = _when(effect, session.step, cranked)
            match effect:
                case Request(act) if made and act in CRANKING:
                    cranked = True
                case Held(reason):
                    report.held.append(reason)
                case Begun(step):
                    doing = step
            match effect:
                case Request(act):
                    report.places.append(Place(doing, act))
                case Listen(question=question, read_back=None) if question is not None:
                    options = len(getattr(question, "contacts", ()))
                    report.places.append(Place(effect.step, type(question).__name__, options))


def alarms(effect: Effect) -> bool:
    """Whether the program says by this that something is not as it should be."""
    match effect:
        case Held() | Deviated():
            return True
        case Done(step, outcome):
            return outcome in ALARMS and not step.endswith(_NO_ALARM)
    return False


def _when(effect: Effect, step: str, cranked: bool) -> Caught:
    step = effect.step if isinstance(effect, Done) else step
    return Caught.BEFORE_THE_NEXT_CRANK if not cranked else _now(step)


def _now(step: str) -> Caught:
    if step.startswith("test"):
        return Caught.AT_THE_TEST
    if step.startswith("prove"):
        return Caught.AT_THE_PROOF
    return Caught.BEFORE_ENERGISING


def wrong_rotors(rig: Actuator) -> tuple[str, ...]:
    """The rotors that are not as drawn, measured on the rig."""
    return tuple(rotor.name for rotor in rig.unit.rotors if not rig.is_as_drawn(rotor.name))


def mistakes_at(place: Place, unit: Unit) -> Iterator[Mistake]:
    """Every error that can be made there."""
    step = place.step
    match place.what:
        case "AskContacts":
            for contact in range(place.options):
                yield Mistake(MistakeKind.MISREAD, step, contact)
                yield Mistake(MistakeKind.WRONG_CONTACT, step, contact)
        case "AskRotation":
            yield Mistake(MistakeKind.MISOBSERVED, step)
        case "AskNumber" if not step.endswith("/turn"):
            yield from _miscounts(step)
        case "AskLamps":
            for lamp in range(len(unit.lamps)):
                yield Mistake(MistakeKind.WRONG_LAMP, step, lamp)
        case "AskChoice":
            yield Mistake(MistakeKind.WRONG_WORD, step)
        case ActKind():
            yield from _mistakes_in(place.what, step, unit)


def _mistakes_in(act: ActKind, step: str, unit: Unit) -> Iterator[Mistake]:
    yield Mistake(MistakeKind.STEP_SKIPPED, step)
    match act:
        case ActKind.TURN_SHAFT:
            yield Mistake(MistakeKind.WRONG_WAY, step)
            yield Mistake(MistakeKind.TOO_FAST, step)
        case ActKind.TRY_SHAFTS:
            yield Mistake(MistakeKind.UNTRIED, step)
        case ActKind.ENGAGE:
            yield Mistake(MistakeKind.ROD_LEFT_OUT, step)
            yield Mistake(MistakeKind.HALF_ENGAGED, step)
        case ActKind.CRANK:
            yield from _miscounts(step)
    if step == "closed-end/set/end-back-off":
        torque = unit.seating is Seating.TORQUE
        other = unit.back_off_position if torque else unit.back_off_torque
        yield Mistake(MistakeKind.WRONG_BACK_OFF, step, other.value)


def _miscounts(step: str) -> Iterator[Mistake]:
    for off in (-1.0, -0.5, 0.5, 1.0):
        yield Mistake(MistakeKind.MISCOUNT, step, off)


def mistakes_of_papers() -> Iterator[Mistake]:
    """Errors that are made at no single step."""
    for kind in (
        MistakeKind.WRONG_SHEET,
        MistakeKind.REVISION_DIFFERS,
        MistakeKind.CHECKER_COPIES,
    ):
        yield Mistake(kind)
