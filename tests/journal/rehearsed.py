"""Whole jobs on the simulated actuator, as their journals hold them: data for tests."""

from __future__ import annotations

import functools
from datetime import date

from assistant.journal.chain import link
from assistant.journal.entry import Entry, opening
from assistant.language.english import english
from assistant.language.meaning import Command, Word
from assistant.language.recognition import Recognition
from assistant.procedure.load import load_program
from assistant.procedure.program import Program
from assistant.procedure.values import Kind, Value
from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing
from assistant.rig.mistakes import Mistake
from assistant.rig.motor import Motor
from assistant.rig.soundless_job import in_meanings, play
from assistant.rig.technician import Technician, plate_of
from assistant.session.account import account
from assistant.session.core import Session
from assistant.session.effects import Listen
from assistant.speech.typed import understood
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit
from tests.session.job import PROCEDURES, flagship

__all__ = ["LATER", "OF_THE_CHECK", "OF_THE_TESTER", "PAPERS", "check", "job", "replies", "rig_of"]

LATER = 4 * 3600.0
"""Seconds after the beginning of a job when its check begins."""

PAPERS = {"technician": "RV", "checker": "JT", "work-order": "W417"}
OF_THE_TESTER = {"tester": "T12", "tester-due": "2031-12-31"}
OF_THE_CHECK = {"checker": "AB"}
"""The check's checker is not the one who stood beside the job."""


def rig_of(unit: Unit) -> Actuator:
    """An actuator with every rotor far out of setting."""
    gears = Gearing(38.0, Rotation.CLOCKWISE, 55.0)
    return Actuator(
        unit, {rotor.name: gears.standing_past(rotor.set_while.opposite) for rotor in unit.rotors}
    )


def job(rig: Actuator) -> list[Entry]:
    """The whole job on a rig, which it leaves set."""
    return _played(flagship(), _technician(rig), PAPERS | OF_THE_TESTER)


def check(rig: Actuator, mistake: Mistake | None = None, *without: str) -> list[Entry]:
    """The independent check of a rig as it is, later.

    Args:
        rig: the actuator.
        mistake: an error that the checker makes.
        without: questions that are answered with no, beside that of the first readings.
    """
    checker = _technician(rig, mistake, LATER)
    return _played(_second_check(), checker, PAPERS | OF_THE_CHECK, frozenset({"apart", *without}))


def replies(rig: Actuator, *, checks: bool, mistake: Mistake | None = None) -> list[str]:
    """What is said in a whole job, or in a check of it, to be typed."""
    program = _second_check() if checks else flagship()
    papers = PAPERS | (OF_THE_CHECK if checks else OF_THE_TESTER)
    session, technician = _session(program, rig.unit, papers), _technician(rig, mistake)
    said: list[str] = []

    def hearing(technician: Technician, listen: Listen) -> Recognition:
        said.append("no" if listen.step == "apart" else technician.reply())
        return understood(said[-1], listen.grammar, "rehearsal")

    for _ in play(session, technician, hearing):
        pass
    assert session.finished
    return said


@functools.cache
def _second_check() -> Program:
    return load_program(PROCEDURES / "second-check.yaml")


def _played(
    program: Program,
    technician: Technician,
    papers: dict[str, str],
    answered_no: frozenset[str] = frozenset(),
) -> list[Entry]:
    assert technician.rig is not None
    unit = technician.rig.unit
    session = _session(program, unit, papers)

    def hearing(technician: Technician, listen: Listen) -> Recognition:
        if listen.step in answered_no and not listen.aside:
            return Recognition("no", Command(Word.NO), 1.0, 0.0, "rehearsal")
        return in_meanings(technician, listen)

    told = {"tag": unit.tag, "drawing": unit.drawing, "revision": unit.revision}
    extra = opening({"papers": papers}, {}, told, {"title": program.procedure.title}, "test")
    made: list[Entry] = []
    step = session.step
    for event, effects in play(session, technician, hearing):
        body = {**account(step, event, effects), **extra}
        made.append(link(made[-1].line if made else None, len(made) + 1, event.at, body))
        step, extra = session.step, {}
    assert session.finished
    return made


def _session(program: Program, unit: Unit, papers: dict[str, str]) -> Session:
    return Session(program, unit, english(), {name: _value(told) for name, told in papers.items()})


def _technician(rig: Actuator, mistake: Mistake | None = None, begun: float = 0.0) -> Technician:
    motor = Motor(rig, seconds=51.0)
    return Technician(rig, plate_of(rig.unit), motor, mistake=mistake, seconds=begun)


def _value(told: str) -> Value:
    try:
        return Value(Kind.DATE, date.fromisoformat(told))
    except ValueError:
        return Value(Kind.LETTERS, told)
