"""What a room and a poor microphone do to speech."""

from __future__ import annotations

import functools

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples
from tests.bench.mixing import active_level

__all__ = ["clipped", "quiet", "reverberant"]

SPEED_OF_SOUND = 343.0
"""Metres a second, in air of 20 degrees."""

ROOMS = 4
"""How many rooms there are for each parity of the seed."""

_Numbers = NDArray[np.float64]

_HEARD = 0.3  # seconds of reverberation that are kept


def reverberant(samples: Samples, seed: int) -> Samples:
    """The samples in a small hard room, a metre or so from the microphone, at the same level."""
    response = _response(seed % (2 * ROOMS))
    length = len(samples) + len(response) - 1
    size = 1 << length.bit_length()
    sound = np.fft.irfft(np.fft.rfft(samples, size) * np.fft.rfft(response, size), size)
    heard = np.asarray(sound[:length], np.float32)
    return heard * np.float32(active_level(samples) / active_level(heard))


@functools.lru_cache(2 * ROOMS)
def _response(seed: int) -> Samples:
    """The response of a shoebox room by its mirror images (Allen and Berkley, JASA 65, 1979).

    Two to four metres a side, reverberation (Sabine) of 0.4 to 0.6 s, the same at all frequencies.
    """
    chance = np.random.default_rng(seed)
    sides = chance.uniform((2.5, 3.0, 2.3), (3.5, 4.5, 2.9))
    lasting = chance.uniform(0.4, 0.6)
    microphone = sides * chance.uniform(0.3, 0.7, 3)
    mouth = np.clip(microphone + chance.uniform(-0.7, 0.7, 3), 0.2, sides - 0.2)
    surface = 2 * (sides[0] * sides[1] + sides[0] * sides[2] + sides[1] * sides[2])
    absorbed = 0.161 * np.prod(sides) / (surface * lasting)
    distances, bounces = _images(sides, mouth, microphone)
    strengths = np.sqrt(1 - absorbed) ** bounces / distances
    delays = np.rint(distances / SPEED_OF_SOUND * SAMPLE_RATE).astype(np.int64)
    near = delays < _HEARD * SAMPLE_RATE
    response = np.asarray(np.bincount(delays[near], strengths[near]), np.float64)
    return np.asarray(_without_rumble(response[delays.min() :]), np.float32)


def _without_rumble(response: _Numbers) -> _Numbers:
    """Less what lies below 100 Hz: images are all of one sign and pile up there, walls are not."""
    size = 4 * len(response)
    frequency = 1j * np.fft.rfftfreq(size, 1 / SAMPLE_RATE)
    spectrum = np.fft.rfft(response, size) * (frequency / (frequency + 100.0)) ** 2
    return np.asarray(np.fft.irfft(spectrum, size)[: len(response)])


def _images(sides: _Numbers, mouth: _Numbers, microphone: _Numbers) -> tuple[_Numbers, _Numbers]:
    """Distance of every mirror image from the microphone, and at how many walls it was mirrored."""
    offsets, counts = [], []
    for axis in range(3):
        most = int(_HEARD * SPEED_OF_SOUND / (2 * sides[axis])) + 1
        rooms = np.arange(-most, most + 1)
        positions = np.concatenate(
            (2 * rooms * sides[axis] + mouth[axis], 2 * rooms * sides[axis] - mouth[axis])
        )
        offsets.append(positions - microphone[axis])
        counts.append(np.concatenate((np.abs(2 * rooms), np.abs(2 * rooms - 1))))
    x, y, z = np.meshgrid(*offsets, indexing="ij", sparse=True)
    across, along, up = np.meshgrid(*counts, indexing="ij", sparse=True)
    distances = np.sqrt(x**2 + y**2 + z**2)
    return distances.ravel(), (across + along + up).ravel()


def clipped(samples: Samples) -> Samples:
    """An overdriven microphone: peaks 12 dB over what it can take."""
    return np.asarray(np.clip(samples * (4 / np.abs(samples).max()), -1, 1), np.float32)


def quiet(samples: Samples) -> Samples:
    """A microphone turned down: active speech 60 dB below full scale, in steps of 16 bits."""
    faint = samples * (0.001 / active_level(samples))
    return np.asarray(np.rint(faint * 32767) / 32767, np.float32)
