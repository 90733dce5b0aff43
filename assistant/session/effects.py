"""What a session asks of the world around it, in answer to an event."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass

from assistant.language.answers import Question
from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from assistant.procedure.model import ActKind
from assistant.procedure.values import Value
from assistant.trade.shaft import Advice

__all__ = [
    "Adjust",
    "Adjustment",
    "Advised",
    "Confirmed",
    "Effect",
    "Finished",
    "Held",
    "Listen",
    "Noted",
    "Recorded",
    "Request",
    "Say",
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
        question: what is asked; None while on hold or while a note is dictated.
        read_back: the meaning whose confirmation is waited for, if it is one.
        patience: seconds of silence after which the session wants to be told.
        subject: what the question is about: the rotor whose shaft is watched, or the name of
            what is spelled (``unit.tag``); empty where the question itself says it all.
    """

    grammar: Grammar
    step: str
    question: Question | None
    read_back: Meaning | None
    patience: float
    subject: str = ""


@dataclass(frozen=True, slots=True)
class Request:
    """What the technician was just asked to do to the valve."""

    act: ActKind
    arguments: Mapping[str, Value]


class Adjustment(enum.StrEnum):
    """A change of the voice."""

    SLOWER = "slower"
    LOUDER = "louder"


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
    """A value goes into the record under a name."""

    name: str
    value: Value


@dataclass(frozen=True, slots=True)
class Noted:
    """The recording that was just heard is a note."""


@dataclass(frozen=True, slots=True)
class Held:
    """The job is on hold, and why."""

    reason: str


@dataclass(frozen=True, slots=True)
class Finished:
    """The job is done."""


Effect = Say | Listen | Request | Adjust | Confirmed | Advised | Recorded | Noted | Held | Finished
