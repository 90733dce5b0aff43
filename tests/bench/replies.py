"""What is said in jobs with the shipped procedures, and the question that each reply answers.

A simulated technician does the job on both shipped units, with rotors that stand differently each
time, and now and then with a slip of the tongue that is corrected. Each reply counts as often as it
was said. To every question, those of the procedure that knows no valve too, come some sentences
drawn from its grammar, the commands among them, which people say as well; together they weigh a
tenth of the rest.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import cast

from assistant.language.answers import Question, commands_only, confirming, grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from assistant.language.recognition import Recognition
from assistant.procedure.load import load_program
from assistant.procedure.model import Ask
from assistant.procedure.papers import read_papers
from assistant.procedure.program import Program
from assistant.procedure.unit_sheet import load_unit
from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing
from assistant.rig.motor import Motor
from assistant.rig.soundless_job import play
from assistant.rig.technician import Slip, Technician, TechnicianLost, plate_of
from assistant.session.core import Session
from assistant.session.effects import Listen
from assistant.session.names import Names
from assistant.session.questions import question_of
from assistant.speech.typed import understood
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit
from tests.units import PAPERS

__all__ = ["Said", "replies", "sample", "walk"]

BOOK = english()
PROCEDURES = Path(__file__).parents[2] / "procedures"
PLAYED = ("set-geared-limits", "second-check", "stroke-time-check")
UNITS = ("kf-07", "kf-12")
JOBS = 6
"""Jobs with each procedure on each unit."""

DRAWN = 4
"""Sentences drawn from the grammar of each question."""

WALKS = 500
"""After so many walks a grammar has no more to offer."""

SHARE_DRAWN = 0.1

SLIPS = (
    Slip("open-end/set/read", "one closed two open three and four open", noticed=True),
    Slip("closed-end/set/read", "five and six open seven closed eight open", noticed=True),
    Slip("prove-open/before", "one and two closed three and four closed", noticed=True),
    Slip("open-end/set/end-stop", "clockwise", noticed=True),
    Slip("closed-end/set/end-stop", "counterclockwise", noticed=True),
)
"""What is said wrongly and corrected when it is read back."""


@dataclass(frozen=True, slots=True)
class Said:
    """A reply.

    Args:
        text: its words.
        question: what was asked.
        read_back: whether the answer was being read back, and this confirms or corrects it.
    """

    text: str
    question: Question
    read_back: bool = False

    @property
    def grammar(self) -> Grammar:
        """What might have been said there."""
        return (confirming if self.read_back else grammar)(self.question, BOOK)

    @property
    def meaning(self) -> Meaning:
        """What was meant."""
        meaning = self.grammar.parse(self.text)
        if meaning is None:
            raise ValueError(f"{self.text!r} means nothing to {self.question}")
        return meaning


@cache
def replies() -> dict[Said, float]:
    """Every reply, and how often it is said in jobs."""
    said = Counter(reply for name in PLAYED for reply in _of_jobs(name))
    places = dict.fromkeys((reply.question, reply.read_back) for reply in said)
    places.update(dict.fromkeys((question, False) for question in _of_no_valve()))
    drawn = [
        Said(text, question, read_back)
        for question, read_back in places
        for text in _drawn(Said("", question, read_back).grammar, random.Random(repr(question)))
    ]
    weight = SHARE_DRAWN * said.total() / len(drawn)
    return {**dict.fromkeys(drawn, weight), **said}


def sample(count: int, seed: int) -> list[Said]:
    """Some of the replies, none twice, likelier the oftener they are said.

    Args:
        count: how many; all where there are not so many.
        seed: which draw.
    """
    chance = random.Random(seed)
    # Efraimidis and Spirakis, Information Processing Letters 97 (2006): a key for each.
    keys = {said: chance.random() ** (1 / weight) for said, weight in replies().items()}
    return sorted(keys, key=lambda said: keys[said], reverse=True)[:count]


def _of_jobs(name: str) -> Iterator[Said]:
    program = load_program(PROCEDURES / f"{name}.yaml")
    for unit in UNITS:
        for number in range(JOBS):
            sheet = load_unit(PROCEDURES / "units" / f"{unit}.yaml")
            yield from _of_job(program, sheet, random.Random(f"{name} {unit} {number}"))


def _of_job(program: Program, unit: Unit, chance: random.Random) -> Sequence[Said]:
    rig = Actuator(unit, _gearings(unit, chance), chance.uniform(5, 95))
    slips = chance.sample(SLIPS, chance.randrange(3))
    technician = Technician(rig, plate_of(unit), Motor(rig, 60.0), tuple(slips))
    papers = {name: PAPERS[name] for name in program.procedure.papers}
    session = Session(program, unit, BOOK, read_papers(program, papers))
    said: list[Said] = []

    def listening(technician: Technician, listen: Listen) -> Recognition:
        text = technician.reply()
        if listen.question is not None:
            said.append(Said(text, listen.question, listen.read_back is not None))
        return understood(text, listen.grammar, "typed")

    try:
        for _ in play(session, technician, listening):
            pass
    except TechnicianLost:
        pass  # what was said until then was said
    return said


def _gearings(unit: Unit, chance: random.Random) -> dict[str, Gearing]:
    return {
        rotor.name: Gearing(
            chance.uniform(30, 45), chance.choice(list(Rotation)), chance.uniform(50, 70)
        ).standing_past(rotor.set_while)
        for rotor in unit.rotors
    }


def _of_no_valve() -> Iterator[Question]:
    """The questions of a procedure of another trade, which nobody here can play."""
    nowhere = cast(Names, None)  # its questions name nothing that the job would have to know
    for node in load_program(PROCEDURES / "graft-scion.yaml").nodes.values():
        if isinstance(node.step.action, Ask):
            yield question_of(node, node.step.action, nowhere)


def _drawn(under: Grammar, chance: random.Random) -> list[str]:
    """Sentences that walks through the grammar happen to meet, one command among them at most."""
    commands = commands_only(BOOK)
    found: dict[str, None] = {}
    for _ in range(WALKS):
        text = walk(under, chance)
        spare = commands.parse(text) is not None and any(map(commands.parse, found))
        if under.parse(text) is not None and not spare:
            found[text] = None
        if len(found) == DRAWN:
            break
    return list(found)


def walk(under: Grammar, chance: random.Random) -> str:
    """A sentence that a random walk through a grammar meets; it may mean nothing."""
    node, said = under.start, ""
    while arcs := under.arcs(node):
        if under.is_end(node) and chance.random() < 0.5:
            break
        arc = chance.choice(arcs)
        node, said = arc.target, f"{said} {arc.term.spoken}".strip()
    return said
