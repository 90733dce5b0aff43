"""A job for tests: both ends of an invented unit, without sound."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from assistant.journal.entry import timestamp
from assistant.language.english import english
from assistant.language.recognition import Recognition
from assistant.procedure.load import load_program, program_from_texts
from assistant.procedure.program import Program
from assistant.procedure.text_file import read_text
from assistant.procedure.unit_sheet import load_unit
from assistant.session.core import Session
from assistant.session.effects import Confirmed, Effect, Finished, Held, Listen, Say
from assistant.session.events import Event, Heard, Opened, Returned, Silent
from assistant.trade.unit import Unit

PROCEDURES = Path(__file__).parents[2] / "procedures"
NOW = "2031-05-14T08:00:00.000Z"

TO_READING = (
    *("yes", "yes", "locked off", "yes", "yes", "checker correct", "yes", "yes"),
    *("kilo foxtrot zero seven", "correct", "charlie", "correct", "torque"),
    *("locked", "clockwise", "correct"),
)
"""Replies that lead to the first reading of contacts of the open end."""


@functools.cache
def flagship() -> Program:
    return load_program(PROCEDURES / "set-geared-limits.yaml")


@functools.cache
def two_ends() -> Program:
    """The shipped parts, called by a short procedure of these tests."""
    here = Path(__file__).parent
    return program_from_texts(
        "two-ends.yaml",
        lambda name: read_text((here if name == "two-ends.yaml" else PROCEDURES) / name),
    )


def kf(number: str) -> Unit:
    return load_unit(PROCEDURES / "units" / f"kf-{number}.yaml")


@dataclass
class Job:
    """A session that is talked to in typed words."""

    session: Session = field(default_factory=lambda: Session(two_ends(), kf("07"), english()))
    effects: tuple[Effect, ...] = ()
    history: list[Event] = field(default_factory=list)
    now: str = NOW

    def __post_init__(self) -> None:
        self.take(Opened(self.now))

    def take(self, event: Event) -> Job:
        self.history.append(event)
        self.effects = self.session.receive(event)
        return self

    def say(self, *replies: str, confidence: float = 1.0) -> Job:
        for reply in replies:
            meaning = self.listen.grammar.parse(reply)
            self.take(Heard(self.now, Recognition(reply, meaning, confidence, 0.0, "test")))
        return self

    def wait(self, seconds: float) -> Job:
        """Let time pass."""
        now = datetime.fromisoformat(self.now) + timedelta(seconds=seconds)
        self.now = timestamp(now)
        return self

    def silence(self, times: int = 1) -> Job:
        for _ in range(times):
            self.take(Silent(self.now))
        return self

    def power_returns(self) -> Job:
        return self.take(Returned(self.now))

    @property
    def listen(self) -> Listen:
        return next(effect for effect in self.effects if isinstance(effect, Listen))

    @property
    def said(self) -> str:
        return " ".join(effect.text for effect in self.effects if isinstance(effect, Say))

    def all_of(self, kind: type[Effect]) -> Iterable[Effect]:
        return [effect for effect in self.effects if isinstance(effect, kind)]

    @property
    def confirmed(self) -> list[Confirmed]:
        return [effect for effect in self.effects if isinstance(effect, Confirmed)]

    @property
    def held(self) -> bool:
        return self.session.held and any(isinstance(effect, Held) for effect in self.effects)

    @property
    def finished(self) -> bool:
        return any(isinstance(effect, Finished) for effect in self.effects)
