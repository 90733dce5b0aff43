"""What a board shows at one moment of a job."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.board.position import Position
from assistant.language.meaning import Meaning
from assistant.procedure.program import Program
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit

__all__ = [
    "NOT_SHOWN",
    "Heard",
    "Place",
    "Reading",
    "Situation",
    "Standing",
    "Turn",
    "View",
    "first_view",
]


NOT_SHOWN = "The board cannot show this step. Listen to the voice."
"""What is shown in place of a step that could not be."""


class Situation(enum.StrEnum):
    """What the job is waiting for."""

    STARTING = "starting"
    ASKING = "asking"
    CONFIRMING = "confirming"
    HELD = "held"
    DONE = "done"


class Standing(enum.StrEnum):
    """What became of what was heard."""

    OPEN = "is it right"
    COUNTS = "confirmed"
    TAKEN = "heard"
    UNCLEAR = "unclear"
    MISSED = "not understood"
    SILENT = "nothing heard"


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the job it stands.

    Args:
        number: of the step, from 1, in the order in which the steps are written.
        steps: how many there are, with those that a job without trouble never comes to.
        phase: the step of the procedure itself, in words.
        part: the steps within it, in words; empty where there are none.
    """

    number: int
    steps: int
    phase: str
    part: str


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard last: the words, what they were taken for, and what became of it."""

    text: str
    meaning: str
    standing: Standing
    is_pressed: bool = False


@dataclass(frozen=True, slots=True)
class Turn:
    """The way in which the shaft of a rotor is to be turned now."""

    rotor: str
    rotation: Rotation


@dataclass(frozen=True, slots=True)
class Reading:
    """The contacts that were asked for last.

    Args:
        contacts: their numbers.
        states: those that were told so far.
        counts: whether the states were confirmed.
    """

    contacts: tuple[int, ...] = ()
    states: Mapping[int, ContactState] = field(default_factory=dict)
    counts: bool = False


@dataclass(frozen=True, slots=True)
class View:
    """Everything that a board shows, and what it has to remember for that.

    Args:
        program: the procedure.
        unit: the unit that is worked on, if any.
        situation: what the job is waiting for.
        place: where it stands; None before the first question.
        notices: the warnings and cautions that were spoken with the question.
        instructions: what the question had the technician do, and the question, as it was spoken.
        aside: a question of the session's own, which is asked before that one.
        works: whether the technician was asked to do something first.
        again: whether the question was asked before.
        reply: what the program said to an answer that did not count.
        heard: what was heard last.
        read_back: the meaning whose confirmation is waited for.
        turn: the way to turn a shaft, while that is what is to be done.
        coming: the way to turn a shaft, while something else is done first.
        turns: the way at every question so far, for when the job goes back to it.
        contradiction: whether the last reading gave no direction.
        hold: why the job is on hold; empty where it is not.
        failure: of a device, which keeps the job from going on at all, or what has ended it; empty
            where nothing failed.
        last_words: what is to be done once that has ended the job; empty until then.
        has_sheets_stroke: whether the stroke is still that of the unit's sheet; no event tells
            the count that has replaced it.
        position: where the valve stands, as far as it is known.
        reading: the contacts that were asked for last.
        keys: the answers that may be pressed, if pressing is allowed at all.
        words: the four words of a finished job, for the work order.
    """

    program: Program
    unit: Unit | None
    situation: Situation = Situation.STARTING
    place: Place | None = None
    notices: tuple[str, ...] = ()
    instructions: tuple[str, ...] = ()
    aside: tuple[str, ...] = ()
    works: bool = False
    again: bool = False
    reply: str = ""
    heard: Heard | None = None
    read_back: Meaning | None = None
    turn: Turn | None = None
    coming: Turn | None = None
    turns: Mapping[str, Turn] = field(default_factory=dict)
    contradiction: bool = False
    hold: str = ""
    failure: str = ""
    last_words: tuple[str, ...] = ()
    has_sheets_stroke: bool = True
    position: Position = field(default_factory=Position)
    reading: Reading = field(default_factory=Reading)
    keys: tuple[str, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def shown_turn(self) -> Turn | None:
        """The turn, where it may be acted on at this moment."""
        asks = self.situation is Situation.ASKING and not self.failure
        return self.turn if asks and not self.aside and not self.contradiction else None


def first_view(program: Program, unit: Unit | None) -> View:
    """What is shown before anything has happened."""
    return View(program, unit)
