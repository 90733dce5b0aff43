"""Ears on a keyboard: one line is one reply."""

from __future__ import annotations

from typing import TextIO

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech.ears import Ended, Reply, Silence, Spoken

__all__ = ["TypedEars", "understood"]


class TypedEars:
    """Reads replies as lines of text; an empty line is silence, the end of the text is the end."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """Wait for one line, however long it takes: `patience` has no effect."""
        line = self._stream.readline()
        if not line:
            return Ended()
        text = line.strip()
        return Spoken(understood(text, grammar, "typed"), None) if text else Silence()


def understood(text: str, grammar: Grammar, engine: str) -> Recognition:
    """A text that is certain, with its meaning under the grammar."""
    return Recognition(text, grammar.parse(text), 1.0, 0.0, engine)
