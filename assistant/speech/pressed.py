"""Answers that are pressed, beside those that are spoken or typed.

A press belongs to what was shown when it was pressed. Once the job has gone on it counts for
nothing: an answer must not reach a question that whoever pressed had not seen. A hold answers no
question and is safe at every step, so it counts whatever was shown, and before any other press.
"""

from __future__ import annotations

import functools
import queue
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TextIO

from assistant.language.grammar import Grammar
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.ears import Ears, Ended, Reply, Samples, Silence, Spoken
from assistant.speech.typed import understood

__all__ = ["PRESSED", "LinesWithPresses", "Press", "PressableEars", "Presses", "SoundWithPresses"]

PRESSED = "pressed"
"""The name of the engine under which a pressed answer stands in the journal."""


@dataclass(frozen=True, slots=True)
class Press:
    """A word that was pressed, and the number of what was shown then."""

    word: str
    number: int


class Presses:
    """At most one press that waits: one thread puts it in, another takes it out.

    Args:
        hold: the words that hold the job.
    """

    def __init__(self, hold: Grammar) -> None:
        self._hold = hold
        self._lock = threading.Lock()
        self._waiting: Press | None = None
        self._shown = 0

    def shown(self, number: int) -> None:
        """Something else is shown: what was pressed before is void, unless it is a hold."""
        with self._lock:
            self._shown = number
            if self._waiting is not None and not self._holds(self._waiting):
                self._waiting = None

    def put(self, press: Press) -> bool:
        """Let a press wait, a hold in place of any other.

        False, and nothing has changed, where it is no hold and something else is shown by now, or
        another press waits.
        """
        with self._lock:
            counts = press.number == self._shown and self._waiting is None
            if not counts and not self._holds(press):
                return False
            self._waiting = press
            return True

    def take_hold(self) -> Spoken | None:
        """The hold that waits, if one does; any other press goes on waiting."""
        with self._lock:
            press = self._waiting
            if press is None or not self._holds(press):
                return None
            self._waiting = None
        return _reply(press.word, self._hold)

    def take(self) -> str | None:
        """The word that waits, which then waits no more; None where there is none."""
        with self._lock:
            press, self._waiting = self._waiting, None
        return None if press is None else press.word

    def _holds(self, press: Press) -> bool:
        return self._hold.parse(press.word) is not None


class _Pressed(Exception):  # noqa: N818 - no error: it ends the waiting for sound
    def __init__(self, word: str) -> None:
        self.word = word


class SoundWithPresses:
    """A source of sound that stops giving blocks once something was pressed.

    Args:
        source: the microphone.
        presses: what is looked at before each block, so every 30 ms.
    """

    def __init__(self, source: SoundSource, presses: Presses) -> None:
        self._source = source
        self._presses = presses

    @property
    def overflows(self) -> int:
        """How often sound was lost because nobody took it in time."""
        return self._source.overflows

    def discard(self) -> None:
        """Forget what was heard up to now."""
        self._source.discard()

    def blocks(self) -> Iterator[Samples]:
        """The blocks of the source, up to a press."""
        for block in self._source.blocks():
            if (word := self._presses.take()) is not None:
                raise _Pressed(word)
            yield block


class PressableEars:
    """Ears on a `SoundWithPresses`: what is pressed is a reply, whatever is said meanwhile."""

    def __init__(self, ears: Ears) -> None:
        self._ears = ears

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """One reply, spoken or pressed."""
        try:
            return self._ears.listen(grammar, patience)
        except _Pressed as pressed:
            return _reply(pressed.word, grammar)


class LinesWithPresses:
    """Ears on a keyboard and on presses: whichever comes first.

    Each line is read under the grammar of the question that is open when its turn comes.
    """

    def __init__(self, stream: TextIO, presses: Presses) -> None:
        self._presses = presses
        self._lines = _lines_of(stream)

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """One reply, however long it takes: `patience` has no effect."""
        while True:
            if (word := self._presses.take()) is not None:
                return _reply(word, grammar)
            try:
                line = self._lines.get(timeout=_LOOKS_EVERY)
            except queue.Empty:
                continue
            if not line:
                self._lines.put(line)  # the end stays the end
                return Ended()
            text = line.strip()
            return Spoken(understood(text, grammar, "typed"), None) if text else Silence()


@functools.cache
def _lines_of(stream: TextIO) -> queue.Queue[str]:
    """The lines of a stream as they come, at the end an empty one.

    A thread of its own reads them, for nobody can wait for a line and a press at once; one for a
    stream, however often ears are opened on it, so that none takes a line that another needs.
    """
    lines: queue.Queue[str] = queue.Queue()

    def read() -> None:
        try:
            for line in stream:
                lines.put(line)
        finally:
            lines.put("")  # whoever waits must not wait for ever

    threading.Thread(target=read, name="keyboard", daemon=True).start()
    return lines


_LOOKS_EVERY = 0.05
"""Seconds between two looks for a press."""


def _reply(word: str, grammar: Grammar) -> Spoken:
    return Spoken(understood(word, grammar, PRESSED), None)
