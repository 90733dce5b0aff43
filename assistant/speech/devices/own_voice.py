"""The program's own voice, taken out of what the microphone hears while it speaks.

What is played is known to the sample. How it comes back is not: some time later, quieter, and
coloured by loudspeaker, room and microphone. That is estimated from the last seconds of the prompt
itself, again and again as it goes on: the delay by the peak of the cross-correlation, then the
response from there on by the cross-spectrum over the spectrum of what was played (Wiener). That is
done twice: what the first response leaves shows when somebody else spoke, and such a frame counts
the less in the second. The played sound with this response is subtracted.

What is recorded before the first estimate (0.9 s) waits for it, so that whoever speaks over the
first words is heard as well, a little later.

In a room something stays, since the response is cut off after `RESPONSE`. So what is left counts
as somebody else only where it is not far below what was taken out (`Rest.is_foreign`), also just
before: in a gap between two words nothing is taken out, but what fades away there is no speech.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.speech.devices.level import BLOCK, level
from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["OwnVoice", "Rest"]

LATEST = 1.0
"""The longest delay from the loudspeaker's program to the microphone's that is looked for [s]."""

RESPONSE = 2048
"""Samples of the response (128 ms)."""

LAST = 1024
"""Samples of it that are loud enough to be taken for somebody who speaks after the sound."""

REMAINS = -8.0
"""What is left of the own voice stays this far below what was taken out [dB]."""

FADES = -20.0
"""What is left of it in a gap between its words stays this far below the loudest of these [dB]."""

_WORD = 15
"""Blocks (0.45 s) before a gap, among which is the loudest of the words."""

_LATELY, _LEAST_KNOWN = 60, 10
"""Of so many blocks at most, and at least, it is told how much of it was taken out."""

_FRAME = 4096  # samples of a spectrum
_BEFORE = 64  # samples of the response before the peak
_FIRST, _EVERY = 30, 10  # blocks after which is estimated: 0.9 s, then every 0.3 s
_REMEMBERED = 200  # blocks (6 s): an estimate takes no longer at the end of a long prompt
_FLOOR = 1e-4  # of the mean power: where nothing was played, nothing is known
_LEAST_FOREIGN = 0.05  # of the mean power of what is left: no frame counts without bound


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
        is_after: whether nothing loud of the own voice comes back in it any more.
    """

    samples: Samples
    is_foreign: bool
    is_after: bool


class OwnVoice:
    """Takes one played sound out of what is recorded from its beginning on.

    Args:
        played: the sound, at `SAMPLE_RATE`.
    """

    def __init__(self, played: Samples) -> None:
        self._played = played
        self._blocks: list[Samples] = []
        self._levels: list[tuple[float, float]] = []  # of known blocks, before and after [dB]
        self._owns: list[float] = []  # of them, what was taken out [dB]
        self._path: _Path | None = None

    def taken_out_of(self, block: Samples) -> list[Rest]:
        """Take the next block of `BLOCK` samples; the blocks without the own voice that are known.

        None before it is known how that comes back (0.9 s), then all up to this one, then this one.
        """
        self._blocks.append(block)
        if len(self._blocks) >= _FIRST and len(self._blocks) % _EVERY == 0:
            lately = self._blocks[-_REMEMBERED:]
            begin = (len(self._blocks) - len(lately)) * BLOCK
            self._path = _path(self._played, np.concatenate(lately), begin)
        if self._path is None:
            return []
        return [self._rest(at, self._path) for at in range(len(self._levels), len(self._blocks))]

    def _rest(self, at: int, path: _Path) -> Rest:
        block, begin, end = self._blocks[at], at * BLOCK, (at + 1) * BLOCK
        own = path.of(self._played, begin, end)
        rest = np.asarray(block - own, np.float32)
        recorded, left, taken = level(block), level(rest), level(own)
        if left > recorded:  # a mistaken estimate: nothing is taken out
            rest, left, taken = block, recorded, recorded
        self._levels.append((recorded, left))
        self._owns.append(taken)
        least = max(taken + REMAINS, max(self._owns[-_WORD:]) + FADES)
        is_after = end > len(self._played) + path.delay + LAST
        return Rest(rest, left >= least, is_after)

    def lowered(self, until: int) -> float:
        """By how much it was lowered in the blocks before that one [dB]; 0 while little is known.

        ITU-T G.168 calls this the echo return loss enhancement. It is small where it was mistaken
        how the own voice comes back, and also where that is drowned by noise.
        """
        known = self._levels[max(0, until - _LATELY) : max(0, until)]
        if len(known) < _LEAST_KNOWN:
            return 0.0
        before, after = np.sum(10 ** (np.array(known) / 10), axis=0)
        return float(10 * np.log10(before / after))


def _path(played: Samples, recorded: Samples, begin: int) -> _Path:
    """Estimate how what was played is in a recording.

    Args:
        played: the whole sound.
        recorded: more than `_FRAME` samples.
        begin: the sample of the recording with which they begin.
    """
    delay = max(0, _delay(played, recorded, begin) - _BEFORE)
    there = _spectra(_cut(played, begin - delay, begin - delay + len(recorded)))
    back = _spectra(recorded)
    response = _response(there, back, np.ones((len(back), 1)))
    left = np.abs(back - np.fft.rfft(response, _FRAME) * there) ** 2
    foreign = left.sum(axis=1, keepdims=True)
    response = _response(there, back, 1.0 / (foreign + _LEAST_FOREIGN * foreign.mean() + 1e-12))
    return _Path(delay, response)


def _spectra(sound: Samples) -> NDArray[np.complex128]:
    """Of frames that overlap by three quarters, shape (frames, frequencies)."""
    frames = np.lib.stride_tricks.sliding_window_view(sound, _FRAME)[:: _FRAME // 4]
    return np.fft.rfft(frames * np.hanning(_FRAME))


def _response(
    there: NDArray[np.complex128], back: NDArray[np.complex128], counted: NDArray[np.float64]
) -> Samples:
    """The response from spectra of what was played and came back, by how much each frame counts."""
    power = np.sum(counted * np.abs(there) ** 2, axis=0)
    cross = np.sum(counted * back * np.conj(there), axis=0)
    response = np.fft.irfft(cross / (power + _FLOOR * power.mean() + 1e-12))
    return np.asarray(response[:RESPONSE], np.float32)


def _delay(played: Samples, recorded: Samples, begin: int) -> int:
    """The lag at which they are most alike [samples]."""
    longest = round(LATEST * SAMPLE_RATE)
    before = _cut(played, begin - longest, begin + len(recorded))
    size = 1 << (len(before) + len(recorded) - 1).bit_length()
    spectrum = np.fft.rfft(recorded, size) * np.conj(np.fft.rfft(before, size))
    likeness = np.abs(np.fft.irfft(spectrum, size)[-longest:])
    return int(np.argmax(likeness))


def _cut(samples: Samples, begin: int, end: int) -> Samples:
    """The samples from `begin` to `end`, with silence for what lies beyond either end."""
    length = end - begin
    before, after = min(max(0, -begin), length), min(max(0, end - len(samples)), length)
    return np.pad(samples[max(0, begin) : max(0, end)], (before, after))
