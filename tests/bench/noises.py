"""Noises of a plant, made from a seed, each at an RMS of one.

None is one of the sounds that make the recogniser's prior of non-speech: those are always the same,
and their hum is of 100 Hz with four overtones in step. Babble, which needs voices, is in `talk`.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples
from tests.bench.mixing import of_unit_level

__all__ = ["MACHINES", "Maker", "hiss", "hum", "impacts", "pink"]

Maker = Callable[[int, int], Samples]
"""From a length in samples and a seed to a noise."""


def pink(length: int, seed: int) -> Samples:
    """Noise with the same power in every octave above 20 Hz."""
    spectrum = np.fft.rfft(np.random.default_rng(seed).standard_normal(length))
    shaped = np.fft.irfft(spectrum / np.sqrt(_frequencies(length)), length)
    return of_unit_level(np.asarray(shaped, np.float32))


def hum(length: int, seed: int) -> Samples:
    """A motor on a mains of about 50 Hz: thirty harmonics, one family beside them at the speed of
    the shaft, both wavering; and pink noise 20 dB below.
    """
    chance = np.random.default_rng(seed)
    time = np.arange(length) / SAMPLE_RATE
    waver = 1 + 0.002 * np.sin(2 * np.pi * chance.uniform(0.3, 2) * time)
    mains = _harmonics(time * waver, chance.uniform(49.8, 50.2), 30, chance)
    shaft = _harmonics(time * waver, chance.uniform(23.5, 24.8), 20, chance)
    swell = 1 + 0.2 * np.sin(2 * np.pi * chance.uniform(0.5, 6) * time + chance.uniform(0, 6))
    machine = of_unit_level(np.asarray((mains + 0.3 * shaft) * swell, np.float32))
    return of_unit_level(machine + np.float32(0.1) * pink(length, seed))


def _harmonics(
    time: NDArray[np.float64], frequency: float, count: int, chance: np.random.Generator
) -> NDArray[np.float64]:
    total = np.zeros_like(time)
    for number in range(1, count + 1):
        strength = chance.uniform(0.2, 1.0) / number**0.7
        total += strength * np.sin(2 * np.pi * number * frequency * time + chance.uniform(0, 6.3))
    return total


def impacts(length: int, seed: int) -> Samples:
    """Hammer blows on metal, three a second at random, each ringing in six modes.

    The level is that of the whole, so each blow stands far above it.
    """
    chance = np.random.default_rng(seed)
    sound = np.zeros(length + SAMPLE_RATE // 2)
    for at in chance.integers(0, length, max(1, chance.poisson(3 * length / SAMPLE_RATE))):
        blow = _blow(chance)
        sound[at : at + len(blow)] += blow
    floor = np.float32(0.05) * pink(length, seed)
    return of_unit_level(of_unit_level(np.asarray(sound[:length], np.float32)) + floor)


def _blow(chance: np.random.Generator) -> NDArray[np.float64]:
    time = np.arange(SAMPLE_RATE // 2) / SAMPLE_RATE
    blow = np.zeros_like(time)
    for _ in range(6):
        frequency = 300 * 20 ** chance.random()
        decay = chance.uniform(0.005, 0.06)
        strength = chance.uniform(0.2, 1.0)
        blow += strength * np.exp(-time / decay) * np.sin(2 * np.pi * frequency * time)
    return np.asarray(blow * 10 ** chance.uniform(-0.6, 0.0))


def hiss(length: int, seed: int) -> Samples:
    """Steam or air: noise in one octave about 2 kHz, with soft edges."""
    spectrum = np.fft.rfft(np.random.default_rng(seed).standard_normal(length))
    octaves = np.log2(_frequencies(length) / 2_000)
    shaped = np.fft.irfft(spectrum * np.exp(-((octaves / 0.5) ** 2)), length)
    return of_unit_level(np.asarray(shaped, np.float32))


def _frequencies(length: int) -> NDArray[np.float64]:
    """Those of a spectrum, none below 20 Hz."""
    return np.asarray(np.maximum(np.fft.rfftfreq(length, 1 / SAMPLE_RATE), 20.0))


MACHINES: dict[str, Maker] = {"pink": pink, "hum": hum, "impacts": impacts, "hiss": hiss}
"""Noises in which nobody speaks."""
