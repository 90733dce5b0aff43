"""The sentences that the session says of its own accord.

Short, the action first, and the same word for the same thing.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.language.meaning import ContactStates, Meaning, Quantity
from assistant.language.speaking import say_contacts, say_meaning

__all__ = [
    "AS_LEFT",
    "CARRY_ON",
    "CLOSE_THE_HOLD",
    "GO_BACK",
    "MOVED_MEANWHILE",
    "NOTED",
    "NOTE_NOW",
    "NOT_ON_HOLD",
    "NOT_TO_BE_SKIPPED",
    "NO_READING",
    "NO_STEP_BEFORE",
    "ON_HOLD",
    "RETURNED",
    "SAY_DONE",
    "SAY_WHY",
    "SKIP",
    "SKIPPED",
    "STOPPED_ENERGISED",
    "TO_THE_GATE",
    "WENT_BACK",
    "WHAT_WAS_DONE",
    "WHO_CLOSES",
    "WHO_SKIPS",
    "and_the_rest",
    "beyond_belief",
    "last_reading",
    "read_back",
    "read_back_again",
    "unless_done",
    "whereabouts",
]

ON_HOLD = "On hold. Say carry on when you are ready."
CARRY_ON = "Carrying on."
RETURNED = "Starting again where the job stopped."
SAY_DONE = "Say done when it is done."
NOT_ON_HOLD = "The job is not on hold."
NOTE_NOW = "Say the note now."
NOTED = "Note kept."
NO_READING = "No contacts have been confirmed yet."
NO_STEP_BEFORE = "This is the first question."
GO_BACK = "Go back to the question before? Say yes or no."
TO_THE_GATE = "The supply counts as off now. The electrical test begins again from its gate."
CLOSE_THE_HOLD = "Not from this hold."
WENT_BACK = "Back to the question before. Only the record went back, not the valve."
SKIP = "Skip this step? Say yes or no."
NOT_TO_BE_SKIPPED = "This step cannot be skipped. What follows depends on it."
SAY_WHY = "Say why."
WHO_SKIPS = "Who skips it? Say technician, or checker."
SKIPPED = "Skipped."
WHAT_WAS_DONE = "Say what was found, and what was done."
WHO_CLOSES = "Who closes this hold? Say technician, or checker."
STOPPED_ENERGISED = "Push stop. Lock off before you reach in."
AS_LEFT = "After this break: do valve, rod and shafts stand as you left them?"
MOVED_MEANWHILE = "Put the valve, the rod and the shafts back as they were."


def read_back(meaning: Meaning) -> str:
    """Repeat what was heard, for confirmation."""
    return f"I heard {say_meaning(meaning)}. Correct?"


def read_back_again(meaning: Meaning) -> str:
    """Repeat it once more, with the words that answer."""
    return f"Say correct, or wrong. I heard {say_meaning(meaning)}."


def beyond_belief(number: Quantity) -> str:
    """Refuse a number outside the range that is believed."""
    return f"{say_meaning(number)} cannot be."


def unless_done(prompt: str) -> str:
    """Ask for some work again that may have been done already."""
    return f"If it is not done yet: {prompt}"


def and_the_rest(contacts: Iterable[int]) -> str:
    """Ask for the contacts that were not mentioned."""
    return f"And {say_contacts(tuple(contacts))}?"


def whereabouts(title: str, step: str, prompt: str) -> str:
    """Where the job stands."""
    place = ", ".join(part.replace("-", " ") for part in step.split("/"))
    return f"{title}. At {place}. {prompt}"


def last_reading(reading: ContactStates | None) -> str:
    """The contacts that were confirmed last."""
    return NO_READING if reading is None else f"Last confirmed: {say_meaning(reading)}."
