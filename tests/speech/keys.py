"""Presses for tests, with the English words that hold a job."""

from __future__ import annotations

from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.speech.pressed import Presses


def no_press() -> Presses:
    """Where presses go; nothing is shown or pressed yet."""
    return Presses(hold_only(english()))
