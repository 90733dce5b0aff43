"""A room in which a prompt is played, comes back, and is spoken over."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator

import numpy as np

from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.speech import wav
from assistant.speech.devices.hotword import Hotword
from assistant.speech.devices.level import BLOCK
from assistant.speech.ears import SAMPLE_RATE, Recogniser, Samples
from assistant.speech.fakes import FakeDetector, FakePlayer

__all__ = ["Playing", "Room", "blocks", "leaking", "listening", "said_over", "voice"]


def listening(recogniser: Recogniser) -> Callable[[Samples], Hotword]:
    """Listens for "hold" over whatever is played."""
    return lambda played: Hotword(played, FakeDetector(), recogniser, hold_only(english()))


def voice(seconds: float, seed: int) -> Samples:
    """Noise that swells and fades four times a second, as syllables do."""
    time_ = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    noise = np.random.default_rng(seed).standard_normal(len(time_))
    return np.asarray(0.1 * noise * np.sin(2 * np.pi * 2 * time_) ** 2, np.float32)


def leaking(played: Samples, decibels: float, delay: float) -> Samples:
    """As it comes back: later, fainter and coloured by a response of 10 ms that fades."""
    late = np.zeros(round(delay * SAMPLE_RATE), np.float32)
    colour = np.random.default_rng(3).standard_normal(160) * np.exp(-np.arange(160) / 30)
    colour *= 10 ** (decibels / 20) / np.sqrt(np.sum(colour**2))
    heard = np.convolve(np.concatenate([late, played]), colour)[: len(played)]
    faint = 1e-4 * np.random.default_rng(4).standard_normal(len(heard))
    return np.asarray(heard + faint, np.float32)


def blocks(sound: Samples) -> Iterator[Samples]:
    for at in range(0, len(sound) - BLOCK + 1, BLOCK):
        yield sound[at : at + BLOCK]


def said_over(sound: Samples, at: float, seconds: float = 0.6) -> Samples:
    """Somebody speaks at a moment, as loud as into a headset."""
    begin = round(at * SAMPLE_RATE)
    out = sound.copy()
    out[begin : begin + round(seconds * SAMPLE_RATE)] += voice(seconds, 9)
    return out


class Playing(FakePlayer):
    """Plays until it is stopped, or until nothing more is heard."""

    def __init__(self) -> None:
        super().__init__()
        self.silent = threading.Event()

    def play(self, sound: wav.Sound) -> None:
        super().play(sound)
        assert self.silent.wait(10)

    def stop(self) -> None:
        super().stop()
        self.silent.set()


class Room:
    """A microphone in a room.

    Args:
        sound: what is heard there; silence after it.
        player: falls silent when so much of it was heard.
        seconds: how much; by default all.
    """

    def __init__(self, sound: Samples, player: Playing, seconds: float | None = None) -> None:
        self.player, self.overflows = player, 0
        self._blocks = blocks(sound)
        self._left = len(sound) // BLOCK if seconds is None else round(seconds * 1_000) // 30

    def discard(self) -> None:
        pass

    def blocks(self) -> Iterator[Samples]:
        while True:
            if self._left == 0:
                self.player.silent.set()
                time.sleep(0.02)  # the player's thread takes its time
            self._left -= 1
            yield next(self._blocks, np.zeros(BLOCK, np.float32))
