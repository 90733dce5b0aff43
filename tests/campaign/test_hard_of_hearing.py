"""The whole job with a recogniser that often does not understand, or not for sure.

No source: this project's goal is that hard hearing costs questions, and neither a hold nor a rotor.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import pytest

from assistant.language.english import english
from assistant.language.questions import AskDigits, AskEither, AskWhether
from assistant.language.recognition import Recognition
from assistant.procedure.papers import read_papers
from assistant.rig.actuator import Actuator
from assistant.rig.motor import Motor
from assistant.rig.random_units import unit_from
from assistant.rig.soundless_job import play
from assistant.rig.technician import Technician, plate_of
from assistant.session.core import Session
from assistant.session.effects import Held, Listen
from assistant.speech.typed import understood
from tests.campaign.confusions import confusions_of
from tests.campaign.jobs import flagship, wrong_rotors
from tests.units import PAPERS

MOST_IN_A_ROW = 2


@dataclass
class HardOfHearing:
    """Hears words under the grammar of the question, but for some, at most two in a row.

    Args:
        chance: decides what is not understood.
        kinds: of the questions that were asked.
    """

    chance: random.Random
    kinds: set[type] = field(default_factory=set)
    failed: int = 0

    def hear(self, technician: Technician, listen: Listen) -> Recognition:
        self.kinds.add(type(listen.question))
        heard = understood(technician.reply(), listen.grammar, "test")
        if listen.aside in ("hold", "note"):
            return heard
        assert heard.meaning is not None, f"{heard.text!r} cannot be said at {listen.step}"
        lot = self.chance.random()
        if self.failed == MOST_IN_A_ROW or lot < 0.6 or listen.aside:
            self.failed = 0
            return heard
        self.failed += 1
        others = list(confusions_of(heard.meaning, listen))
        if lot < 0.8 and others:
            other = self.chance.choice(others).heard
            best, second = self.chance.sample((heard.meaning, other), 2)
            return Recognition(heard.text, best, 0.4, 0.0, "test", second)
        return Recognition("", None, 0.0, 0.0, "test")


def play_job(seed: int) -> HardOfHearing:
    """Play the job on the unit of this seed, and see that it ends as it should."""
    unit, gearings = unit_from(random.Random(seed))
    rig = Actuator(unit, gearings, position=random.Random(seed).uniform(5, 95))
    technician = Technician(rig, plate_of(unit), Motor(rig, seconds=60.0))
    session = Session(flagship(), unit, english(), read_papers(flagship(), PAPERS))
    ears = HardOfHearing(random.Random(seed))
    told = list(play(session, technician, ears.hear, most=3000))
    assert [e for _, effects in told for e in effects if isinstance(e, Held)] == []
    assert session.finished
    assert wrong_rotors(rig) == ()
    return ears


@pytest.mark.parametrize("seed", range(3, 12))
def test_the_job_comes_to_its_end_without_a_hold_and_with_every_rotor_right(seed: int) -> None:
    assert play_job(seed).kinds


def test_replies_are_told_apart_and_taken_apart_on_the_way() -> None:
    kinds = set().union(*(play_job(seed).kinds for seed in range(3)))
    assert {AskEither, AskWhether, AskDigits} <= kinds
