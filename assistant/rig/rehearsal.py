"""A job on the rig without sound: the technician's words reach the session as they were said."""

from __future__ import annotations

from assistant.rig.technician import Technician
from assistant.session.core import Session
from assistant.session.effects import Effect, Listen
from assistant.session.events import Event, Heard, Opened
from assistant.speech.typed import understood

__all__ = ["MOST_REPLIES", "rehearse"]

MOST_REPLIES = 1000
_NOW = "2000-01-01T00:00:00.000Z"


def rehearse(session: Session, technician: Technician, most: int = MOST_REPLIES) -> int:
    """Play a new session to its end, or until the technician has given `most` replies.

    Returns:
        The number of replies given.
    """
    effects = _take(session, technician, Opened(_NOW))
    for count in range(most):
        listen = next((effect for effect in effects if isinstance(effect, Listen)), None)
        if listen is None:
            return count
        heard = understood(technician.reply(), listen.grammar, "rehearsal")
        effects = _take(session, technician, Heard(_NOW, heard))
    return most


def _take(session: Session, technician: Technician, event: Event) -> tuple[Effect, ...]:
    effects = session.receive(event)
    technician.watch(event, effects)
    return effects
