"""What a session asks of the world around it, in answer to an event."""

from __future__ import annotations

import enum
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assistant.language.answers import Question
from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from assistant.procedure.deeds import ActKind, Fact
from assistant.procedure.values import Value
from assistant.session.events import Heard
from assistant.session.holds import HoldKind
from assistant.session.replies import Failure
from assistant.trade.shaft import Advice

__all__ = [
    "Adjust",
    "Adjustment",
    "Advised",
    "Begun",
    "Confirmed",
    "Deviated",
    "Done",
    "Effect",
    "Failed",
    "Finished",
    "Held",
    "HoldClosed",
    "Lapsed",
    "Listen",
    "Noted",
    "Proved",
    "Recorded",
    "Request",
    "Say",
    "Skipped",
    "Tick",
    "Voided",
    "WentBack",
    "listening",
]


@dataclass(frozen=True, slots=True)
class Say:
    """Speak this to the technician."""

    text: str

    def __post_init__(self) -> None:
        if not self.text.strip():
            raise ValueError("there must be something to say")


@dataclass(frozen=True, slots=True)
class Listen:
    """Wait for a reply.

    Args:
        grammar: what may be said.
        step: the step that waits.
        question: what is asked; None while on hold or while words are only kept.
        read_back: the meaning whose confirmation is waited for, if it is one.
        patience: seconds of silence after which the session wants to be told.
        subject: what the question is about: the rotor whose shaft is watched, or the name of
            what is spelled (``unit.tag``); empty where the question itself says it all.
        aside: what a question that no step of the procedure asks is for; empty for the others.
    """

    grammar: Grammar
    step: str
    question: Question | None
    read_back: Meaning | None
    patience: float
    subject: str = ""
    aside: str = ""

    @property
    def keeps_words(self) -> bool:
        """Whether what is said next is kept as it was said: a note, or a reason."""
        return self.aside == "note"


@dataclass(frozen=True, slots=True)
class Request:
    """What the technician was just asked to do to the valve."""

    act: ActKind
    arguments: Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Tick:
    """Give this pace for a moment, before listening.

    Args:
        per_minute: ticks a minute, one for each turn of the shaft.
    """

    per_minute: float


class Adjustment(enum.StrEnum):
    """A change of the voice."""

    SLOWER = "slower"
    FASTER = "faster"
    LOUDER = "louder"
    SOFTER = "softer"


@dataclass(frozen=True, slots=True)
class Adjust:
    """Change the voice."""

    how: Adjustment


@dataclass(frozen=True, slots=True)
class Confirmed:
    """An answer now counts."""

    step: str
    answer: Meaning


@dataclass(frozen=True, slots=True)
class Advised:
    """A direction was computed for a rotor."""

    rotor: str
    advice: Advice


@dataclass(frozen=True, slots=True)
class Recorded:
    """A value goes into the record under a name.

    Args:
        name: its name in the whole program.
        value: the value.
        rotor: the rotor that the step is about, if it is about one.
    """

    name: str
    value: Value
    rotor: str = ""


@dataclass(frozen=True, slots=True)
class Noted:
    """Words are kept as a note, or as a reason.

    Args:
        words: a reason that was said before, and was agreed on now; None for what was just heard.
    """

    words: Heard | None = None


@dataclass(frozen=True, slots=True)
class Held:
    """The job is on hold.

    Args:
        reason: why, as it is spoken.
        kind: what it is held for.
    """

    reason: str
    kind: HoldKind


@dataclass(frozen=True, slots=True)
class HoldClosed:
    """A hold of the procedure was closed: who closed it. The reason is the note just before."""

    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class Begun:
    """A step is being done."""

    step: str


@dataclass(frozen=True, slots=True)
class Done:
    """A step is done, with this outcome."""

    step: str
    outcome: str


@dataclass(frozen=True, slots=True)
class Skipped:
    """A step was passed over, by whom. The reason is the note just before."""

    step: str
    by: str


@dataclass(frozen=True, slots=True)
class WentBack:
    """Answers from this step on no longer count; the valve is as it was left."""

    step: str


@dataclass(frozen=True, slots=True)
class Proved:
    """Something is now known of the valve that the session itself asked for."""

    fact: Fact


@dataclass(frozen=True, slots=True)
class Voided:
    """What was shown by hand of these rotors before shows nothing any more: they may have moved."""

    rotors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lapsed:
    """After a long break nobody can vouch any more for how the valve stands."""


@dataclass(frozen=True, slots=True)
class Deviated:
    """Something went otherwise than the procedure, the sheet or good practice has it."""

    text: str


@dataclass(frozen=True, slots=True)
class Failed:
    """The open question got no answer: why, and the how-manieth time it is."""

    failure: Failure


@dataclass(frozen=True, slots=True)
class Finished:
    """The job is done."""


Effect = (
    Say
    | Listen
    | Tick
    | Request
    | Adjust
    | Confirmed
    | Advised
    | Recorded
    | Noted
    | Held
    | HoldClosed
    | Begun
    | Done
    | Skipped
    | WentBack
    | Proved
    | Voided
    | Lapsed
    | Deviated
    | Failed
    | Finished
)


def listening(effects: Iterable[Effect]) -> Listen | None:
    """What is listened for after these effects; None where nothing is, for the job is over."""
    return next((effect for effect in effects if isinstance(effect, Listen)), None)
