"""Where a session can stand between two events."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from datetime import datetime

from assistant.procedure.deeds import Fact
from assistant.session.dialogue import Dialogue
from assistant.session.events import Heard

__all__ = ["Aside", "Keeping", "Kept", "OnHold", "Open", "Over", "Purpose", "State"]


@dataclass(frozen=True, slots=True)
class Open:
    """A question of the procedure waits for its answer."""

    dialogue: Dialogue
    subject: str


class Purpose(enum.StrEnum):
    """What a question that no step asks is for."""

    GO_BACK = "go-back"
    SKIP = "skip"
    REASON = "reason"
    WHO_SKIPS = "who-skips"
    WHO_CLOSES = "who-closes"
    RESTORE = "restore"
    AS_LEFT = "as-left"


@dataclass(frozen=True, slots=True)
class Kept:
    """A reason that was said and is not agreed on yet.

    Args:
        words: as they were heard.
        then: what the reason is for.
    """

    words: Heard
    then: Purpose


@dataclass(frozen=True, slots=True)
class Aside:
    """A question that no step asks: a command is to be confirmed, or a fact is missing.

    Args:
        purpose: what it is for.
        dialogue: the exchange about it.
        before: what is returned to; None where the walk goes on after it.
        facts: those that are still missing, the one that is asked for first.
        kept: the reason that is to be agreed on.
    """

    purpose: Purpose
    dialogue: Dialogue
    before: Open | OnHold | None = None
    facts: tuple[Fact, ...] = ()
    kept: Kept | None = None


@dataclass(frozen=True, slots=True)
class OnHold:
    """The job is held.

    Args:
        reason: why.
        waiting: the question that waits; None where a step of the procedure holds.
        since: when it was held.
    """

    reason: str
    waiting: Open | Aside | None
    since: datetime


@dataclass(frozen=True, slots=True)
class Keeping:
    """What is said next, but for a command, is kept as it was said: a note, or a reason.

    Args:
        before: what is returned to.
        then: what the reason is for; None for a note.
        failures: how often nothing was said that could be kept.
    """

    before: Open | OnHold | Aside
    then: Purpose | None = None
    failures: int = 0


@dataclass(frozen=True, slots=True)
class Over:
    """The job is done."""


State = Open | Aside | OnHold | Keeping | Over
