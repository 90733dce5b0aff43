"""A job on the rig without sound: what the technician says reaches the session as it was said."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta

from assistant.language.recognition import Recognition
from assistant.rig.technician import Technician
from assistant.session.core import Session
from assistant.session.effects import Effect, Listen, listening
from assistant.session.events import Event, Heard, Opened
from assistant.speech.typed import understood

__all__ = [
    "BEGUN",
    "MOST_REPLIES",
    "Hearing",
    "in_meanings",
    "in_words",
    "play",
    "play_out",
    "time_of",
]

MOST_REPLIES = 1000
BEGUN = datetime(2031, 5, 14, 8, tzinfo=UTC)
"""When every simulated job begins; invented."""

Hearing = Callable[[Technician, Listen], Recognition]
"""How a reply of the technician reaches the session."""


def in_words(technician: Technician, listen: Listen) -> Recognition:
    """By words, which the grammar of the question has to understand."""
    return understood(technician.reply(), listen.grammar, "simulated")


def in_meanings(technician: Technician, _listen: Listen) -> Recognition:
    """By what is meant, without words: many times as fast, and nothing is tried of the grammar."""
    meaning = technician.answer()
    return Recognition("", meaning, 1.0, 0.0, "simulated")


def play(
    session: Session, technician: Technician, hearing: Hearing, most: int = MOST_REPLIES
) -> Iterator[tuple[Event, tuple[Effect, ...]]]:
    """Play a new session to its end, or until the technician has given `most` replies.

    Yields:
        Every event, and what the session answered.
    """
    event: Event = Opened(time_of(technician))
    for _ in range(most + 1):
        effects = session.receive(event)
        technician.watch(event, effects)
        yield event, effects
        listen = listening(effects)
        if listen is None:
            return
        recognition = hearing(technician, listen)
        event = Heard(time_of(technician), recognition)


def play_out(
    session: Session,
    technician: Technician,
    most: int = MOST_REPLIES,
    hearing: Hearing = in_words,
) -> int:
    """The same, for its end alone; answers the number of replies given."""
    return sum(isinstance(event, Heard) for event, _ in play(session, technician, hearing, most))


def time_of(technician: Technician) -> str:
    """The time of the simulated job, as the journal writes it."""
    now = BEGUN + timedelta(seconds=technician.seconds)
    return now.isoformat(timespec="milliseconds").removesuffix("+00:00") + "Z"
