"""The program's own voice, taken out of what the microphone hears while it speaks.

What is played is known to the sample. How it comes back is not: some time later, quieter, and
coloured by loudspeaker, room and microphone. That is estimated from the prompt itself, again and
again as it goes on: the delay by the peak of the cross-correlation, then the response from there on
by the cross-spectrum over the spectrum of what was played (Wiener; the person, who says something
else, only adds to the noise of the estimate). The played sound with this response is subtracted.

In a room something stays, since the response is cut off after `RESPONSE`. So what is left counts
as somebody else only where it is not far below what was taken out (`Rest.is_foreign`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.speech.devices.level import BLOCK, level
from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["OwnVoice", "Rest"]

LATEST = 1.0
"""The longest delay from the loudspeaker's program to the microphone's that is looked for [s]."""

RESPONSE = 1024
"""Samples of the response (64 ms)."""

REMAINS = -8.0
"""What is left of the own voice stays this far below what was taken out [dB]."""

_LATELY, _LEAST_KNOWN = 60, 10
"""Of so many blocks at most, and at least, it is told how much of it was taken out."""

_FRAME = 4096  # samples of a spectrum
_BEFORE = 64  # samples of the response before the peak
_FIRST, _EVERY = 30, 10  # blocks after which is estimated: 0.9 s, then every 0.3 s
_FLOOR = 1e-4  # of the mean power: where nothing was played, nothing is known


@dataclass(frozen=True, slots=True)
class _Path:
    """How what was played comes back.

    Args:
        delay: to the first sample of the response [samples].
        response: the response from there on.
    """

    delay: int
    response: Samples

    def of(self, played: Samples, begin: int, end: int) -> Samples:
        """What comes back in the samples from `begin` to `end` of the recording."""
        first = begin - self.delay - len(self.response) + 1
        return np.convolve(_cut(played, first, end - self.delay), self.response, "valid")


@dataclass(frozen=True, slots=True, eq=False)
class Rest:
    """A block without the own voice.

    Args:
        samples: what is left.
        is_foreign: whether it is loud enough not to be a remainder of the own voice.
    """

    samples: Samples
    is_foreign: bool


class OwnVoice:
    """Takes one played sound out of what is recorded from its beginning on.

    Args:
        played: the sound, at `SAMPLE_RATE`.
    """

    def __init__(self, played: Samples) -> None:
        self._played = played
        self._blocks: list[Samples] = []
        self._levels: dict[int, tuple[float, float]] = {}  # of known blocks, before and after [dB]
        self._path: _Path | None = None

    @property
    def is_over(self) -> bool:
        """Whether nothing of it comes back any more; not while it is not known how it does."""
        if self._path is None:
            return False
        lasting = len(self._played) + self._path.delay + len(self._path.response)
        return len(self._blocks) * BLOCK > lasting

    def taken_out_of(self, block: Samples) -> Rest:
        """The next block of `BLOCK` samples without the own voice.

        Before it is known how that comes back (0.9 s) nothing counts as foreign.
        """
        begin = len(self._blocks) * BLOCK
        self._blocks.append(block)
        if len(self._blocks) >= _FIRST and len(self._blocks) % _EVERY == 0:
            self._path = _path(self._played, np.concatenate(self._blocks))
        if self._path is None:
            return Rest(np.zeros_like(block), is_foreign=False)
        own = self._path.of(self._played, begin, begin + len(block))
        rest = np.asarray(block - own, np.float32)
        self._levels[begin // BLOCK] = level(block), level(rest)
        return Rest(rest, is_foreign=level(rest) >= level(own) + REMAINS)

    def lowered(self, until: int) -> float:
        """By how much it was lowered in the blocks before that one [dB]; 0 while little is known.

        ITU-T G.168 calls this the echo return loss enhancement. It is small where it was mistaken
        how the own voice comes back, and also where that is drowned by noise.
        """
        lately = range(until - _LATELY, until)
        known = [self._levels[block] for block in lately if block in self._levels]
        if len(known) < _LEAST_KNOWN:
            return 0.0
        before, after = np.sum(10 ** (np.array(known) / 10), axis=0)
        return float(10 * np.log10(before / after))


def _path(played: Samples, recorded: Samples) -> _Path:
    """Estimate how what was played is in a recording of more than `_FRAME` samples."""
    delay = max(0, _delay(_cut(played, 0, len(recorded)), recorded) - _BEFORE)
    frames = np.lib.stride_tricks.sliding_window_view
    window = np.hanning(_FRAME)
    late = _cut(played, -delay, len(recorded) - delay)
    there = np.fft.rfft(frames(late, _FRAME)[:: _FRAME // 2] * window)
    back = np.fft.rfft(frames(recorded, _FRAME)[:: _FRAME // 2] * window)
    power = np.sum(np.abs(there) ** 2, axis=0)
    cross = np.sum(back * np.conj(there), axis=0)
    response = np.fft.irfft(cross / (power + _FLOOR * power.mean() + 1e-12))
    return _Path(delay, np.asarray(response[:RESPONSE], np.float32))


def _delay(played: Samples, recorded: Samples) -> int:
    """The lag at which they are most alike [samples]."""
    size = 1 << (2 * len(recorded) - 1).bit_length()
    spectrum = np.fft.rfft(recorded, size) * np.conj(np.fft.rfft(played, size))
    likeness = np.abs(np.fft.irfft(spectrum, size)[: round(LATEST * SAMPLE_RATE)])
    return int(np.argmax(likeness))


def _cut(samples: Samples, begin: int, end: int) -> Samples:
    """The samples from `begin` to `end`, with silence for what lies beyond either end."""
    before, after = max(0, -begin), max(0, end - len(samples))
    return np.pad(samples[max(0, begin) : max(0, end)], (before, min(after, end - begin)))
