"""The sentences that the session says of its own accord.

Short, the action first, and the same word for the same thing.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.language.meaning import ContactStates, Meaning, Quantity
from assistant.language.speaking import say_contacts, say_meaning

__all__ = [
    "CARRY_ON",
    "GO_BACK",
    "NOTED",
    "NOTE_NOW",
    "NOT_ON_HOLD",
    "NO_READING",
    "NO_STEP_BEFORE",
    "ON_HOLD",
    "RETURNED",
    "SAY_DONE",
    "WENT_BACK",
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
WENT_BACK = "Back to the question before. Only the record went back, not the valve."


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
