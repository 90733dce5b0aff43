"""Stand-ins behind the production interfaces, for tests here and elsewhere.

They ship on purpose, so that a voice, ears or a recogniser of one's own can be tried against the
rest of the program; nothing in the program itself uses them.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator

import numpy as np

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE, Ended, Reply, Samples, Silence, Spoken
from assistant.speech.typed import understood

__all__ = [
    "FakeDetector",
    "FakeEars",
    "FakePlayer",
    "FakeRecogniser",
    "FakeSoundSource",
    "FakeVoice",
]


class FakeVoice:
    """Keeps what it was to say in `said`."""

    def __init__(self) -> None:
        self.said: list[str] = []

    def say(self, text: str) -> None:
        """Keep the text."""
        self.said.append(text)


class FakePlayer:
    """Keeps the sounds that it was to play in `played`, and in `begun` those of `begin`.

    Those of `play_through` are in `played_through` too.
    """

    def __init__(self) -> None:
        self.played: list[wav.Sound] = []
        self.played_through: list[wav.Sound] = []
        self.begun: list[wav.Sound] = []
        self.stops = self.closings = 0

    def play(self, sound: wav.Sound) -> None:
        """Keep the sound."""
        self.played.append(sound)

    def play_through(self, sound: wav.Sound) -> None:
        """Keep the sound."""
        self.played_through.append(sound)
        self.play(sound)

    def begin(self, sound: wav.Sound) -> None:
        """Keep the sound."""
        self.begun.append(sound)

    def stop(self) -> None:
        """Count."""
        self.stops += 1

    def close(self) -> None:
        """Count."""
        self.closings += 1


class FakeEars:
    """Gives replies in order: a text as if it had been heard with certainty, or `Silence`."""

    def __init__(self, replies: Iterable[str | Silence]) -> None:
        self._left = deque(replies)

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """The next reply, at once; `Ended` after the last."""
        if not self._left:
            return Ended()
        reply = self._left.popleft()
        if isinstance(reply, Silence):
            return reply
        return Spoken(understood(reply, grammar, "fake"), None)


class FakeRecogniser:
    """Hears the given texts in order, whatever the sound; nothing after the last.

    Attributes:
        heard: the sounds it was given.
    """

    name = "fake"

    def __init__(self, texts: Iterable[str]) -> None:
        self._texts = deque(texts)
        self.heard: list[Samples] = []

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """The next text as if it had been in the samples."""
        self.heard.append(samples)
        text = self._texts.popleft() if self._texts else ""
        meaning = grammar.parse(text)
        seconds = len(samples) / SAMPLE_RATE
        return Recognition(text, meaning, 0.0 if meaning is None else 1.0, seconds, self.name)


class FakeSoundSource:
    """Gives the blocks that it was made with, once, without waiting."""

    def __init__(self, blocks: Iterable[Samples]) -> None:
        self._blocks = iter(blocks)
        self.discards = 0
        self.overflows = 0

    def discard(self) -> None:
        """Count."""
        self.discards += 1

    def blocks(self) -> Iterator[Samples]:
        """The blocks that are left."""
        return self._blocks


class FakeDetector:
    """Takes every sound above a level for speech.

    Args:
        least: RMS from which on it is speech.
    """

    def __init__(self, least: float = 0.01) -> None:
        self._least = least

    def probability(self, block: Samples) -> float:
        """1.0 or 0.0."""
        return float(np.sqrt(np.mean(np.nan_to_num(block) ** 2)) >= self._least)
