"""End of speech: where in a stream of blocks an utterance begins and ends.

Names and meaning of the timeouts are those of VoiceXML 2.0 (W3C, 2004), section 6.3.2 and
appendix D.

Theory of operation: each block is measured in five octaves from 200 to 6,400 Hz; below lie hum and
rumble. Each octave has its own noise floor: the lowest level, averaged over five blocks, of the
last two seconds. Speech dips to the floor within that time, so the floor follows a machine that
starts and is not drawn up by talk. A block is as loud as its two octaves that stand highest over
their floors (a vowel or an s fills two). Speech begins when three of five blocks are loud, and ends
when for `completetimeout` no two of five are. Time is counted in samples; nothing here waits or
reads a clock.

The thresholds were chosen on synthetic noise (white, pink): of blocks without speech one in 1,000
reached about `ONSET`.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = [
    "BLOCK",
    "Endpointer",
    "Event",
    "NoInput",
    "NoiseFloor",
    "SpeechBegan",
    "SpeechEnded",
    "Timeouts",
    "levels",
]

BLOCK = SAMPLE_RATE * 30 // 1000
"""Samples in a block of 30 ms."""

KEPT_BEFORE = 0.3
"""Sound kept before the first loud block, for soft beginnings [s]."""

KEPT_AFTER = 0.3
"""Sound kept after the last loud block, for soft endings [s]."""

ONSET = 7.5
"""How far over the floor speech begins [dB]."""

OFFSET = 6.0
"""How far over the floor speech still goes on [dB]."""

QUIETEST = -80.0
"""No floor is taken to be lower, so that digital silence has one too [dB re a full-scale sine]."""

_AVERAGED = 5
_FLOOR_BLOCKS = 2 * SAMPLE_RATE // BLOCK
_ONSET_BLOCKS = 5
_ONSET_LOUD = 3
_OFFSET_LOUD = 2

_WINDOW = np.hanning(BLOCK).astype(np.float32)
_FULL_SCALE = float(np.sum(_WINDOW) ** 2 / 4)
_EDGES = np.searchsorted(np.fft.rfftfreq(BLOCK, 1 / SAMPLE_RATE), 200.0 * 2.0 ** np.arange(6))


@dataclass(frozen=True, slots=True)
class Timeouts:
    """How long to wait [s].

    Args:
        timeout: for speech to begin; after it comes `NoInput`.
        completetimeout: of silence that ends an utterance.
        maxspeechtimeout: of speech, after which it is ended by force.
    """

    timeout: float = 5.0
    completetimeout: float = 0.8
    maxspeechtimeout: float = 15.0

    def __post_init__(self) -> None:
        if min(self.timeout, self.completetimeout, self.maxspeechtimeout) <= 0:
            raise ValueError(f"timeouts must be positive: {self}")


@dataclass(frozen=True, slots=True)
class SpeechBegan:
    """Somebody began to speak, `at` seconds after the start of listening."""

    at: float


@dataclass(frozen=True, slots=True, eq=False)
class SpeechEnded:
    """The utterance is over.

    Args:
        samples: the utterance with a little silence around it.
        forced: whether `maxspeechtimeout` ended it.
    """

    samples: Samples
    forced: bool


@dataclass(frozen=True, slots=True)
class NoInput:
    """Nobody spoke within `timeout`."""


Event = SpeechBegan | SpeechEnded | NoInput


def levels(block: Samples) -> NDArray[np.float64]:
    """Level of a block in each of the five octaves [dB re a full-scale sine], shape (5,)."""
    power = np.abs(np.fft.rfft(np.nan_to_num(block) * _WINDOW)) ** 2 / _FULL_SCALE
    bands = np.add.reduceat(power[: _EDGES[-1]], _EDGES[:-1])
    return np.asarray(10.0 * np.log10(np.maximum(bands, 1e-12)), np.float64)


class NoiseFloor:
    """The lowest recent level in each octave; keep it from one utterance to the next."""

    def __init__(self) -> None:
        self._recent: deque[NDArray[np.float64]] = deque(maxlen=_AVERAGED)
        self._averages: deque[NDArray[np.float64]] = deque(maxlen=_FLOOR_BLOCKS)

    def over(self, block: Samples) -> float:
        """Take in the next block; answer how far it stands over the floor [dB]."""
        measured = levels(block)
        self._recent.append(measured)
        average = np.mean(self._recent, axis=0)
        if len(self._recent) == _AVERAGED:  # an average of fewer blocks may lie too low
            self._averages.append(average)
        floor = np.maximum(np.min(self._averages or [average], axis=0), QUIETEST)
        return float(np.mean(np.sort(measured - floor)[-2:]))


class Endpointer:
    """Finds one utterance in a stream of blocks.

    Args:
        timeouts: how long to wait for what.
        floor: the noise floor known so far; a new one if none is.
    """

    def __init__(self, timeouts: Timeouts | None = None, floor: NoiseFloor | None = None) -> None:
        self._timeouts = timeouts or Timeouts()
        self._floor = floor or NoiseFloor()
        self._kept: list[Samples] = []
        self._loud: deque[bool] = deque(maxlen=_ONSET_BLOCKS)
        self._heard = 0  # samples since listening began
        self._began: int | None = None  # sample at which speech began
        self._last_loud = 0  # sample at which the last loud block ended

    def feed(self, block: Samples) -> Event | None:
        """Take the next block of `BLOCK` samples; answer what it decided, if anything.

        After `NoInput` or `SpeechEnded` the endpointer is spent.
        """
        self._heard += len(block)
        self._kept.append(block)
        over = self._floor.over(block)
        return self._waiting(over) if self._began is None else self._speaking(self._began, over)

    def _waiting(self, over: float) -> Event | None:
        """Before speech: see whether it has begun."""
        self._loud.append(over >= ONSET)
        if sum(self._loud) >= _ONSET_LOUD:
            self._began = self._heard - len(self._loud) * BLOCK
            self._last_loud = self._heard
            return SpeechBegan(self._began / SAMPLE_RATE)
        if self._heard >= self._timeouts.timeout * SAMPLE_RATE:
            return NoInput()
        self._forget()
        return None

    def _speaking(self, began: int, over: float) -> Event | None:
        """Within speech: see whether it has ended."""
        self._loud.append(over >= OFFSET)
        if sum(self._loud) >= _OFFSET_LOUD:
            self._last_loud = self._heard
        quiet = (self._heard - self._last_loud) / SAMPLE_RATE
        if quiet >= self._timeouts.completetimeout:
            return SpeechEnded(self._utterance(quiet), forced=False)
        if self._heard - began >= self._timeouts.maxspeechtimeout * SAMPLE_RATE:
            return SpeechEnded(self._utterance(0.0), forced=True)
        return None

    def _forget(self) -> None:
        """Drop blocks too old to belong to an utterance that begins now."""
        while len(self._kept) > _ONSET_BLOCKS + KEPT_BEFORE * SAMPLE_RATE / BLOCK:
            self._kept.pop(0)

    def _utterance(self, quiet: float) -> Samples:
        """All that was kept, less the silence at its end beyond `KEPT_AFTER`."""
        sound = np.concatenate(self._kept)
        surplus = max(0, round((quiet - KEPT_AFTER) * SAMPLE_RATE))
        return sound[: len(sound) - surplus]
