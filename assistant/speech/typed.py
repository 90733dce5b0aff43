"""Ears on a keyboard: one line is one reply."""

from __future__ import annotations

import io
from typing import TextIO

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech.ears import Ended, Reply, Silence, Spoken

__all__ = ["TypedEars", "understood"]


class TypedEars:
    """Reads replies as lines of text; an empty line is silence, the end of the text is the end.

    Bytes that are no text are replaced, so that a slip of the keyboard is only not understood.
    """

    def __init__(self, stream: TextIO) -> None:
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
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
