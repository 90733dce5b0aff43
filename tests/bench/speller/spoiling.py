"""What a plant and a microphone do to speech, at random and without end.

Noises are cut out of a stock of long ones, because to make each anew would take longer than to
learn from it. All are of the development part (`tests.bench.parts`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from assistant.speech.ears import SAMPLE_RATE, Samples
from tests.bench.mixing import mixed, of_unit_level
from tests.bench.noises import MACHINES, Maker
from tests.bench.rooms import reverberant

__all__ = ["Stock", "noise_alone", "spoiled"]

SHARES = {"babble": 0.3, "pink": 0.25, "impacts": 0.12, "hum": 0.12, "hiss": 0.11, "coloured": 0.1}
"""How often each noise is heard."""

LENGTH, OF_EACH = 30 * SAMPLE_RATE, 16
"""Samples of each noise in the stock, and how many of each kind."""

RATIOS = (-3.0, 20.0)
"""Active speech over noise [dB]."""

_Chance = np.random.Generator


@dataclass(frozen=True, slots=True)
class Stock:
    """Long noises of every kind, each at an RMS of one."""

    noises: dict[str, Sequence[Samples]]

    @classmethod
    def made(cls, babble: Maker) -> Stock:
        """The stock; takes a minute."""
        makers: dict[str, Maker] = {**MACHINES, "babble": babble, "coloured": _coloured}
        return cls(
            {
                name: [make(LENGTH, 2 * (1_000 + number)) for number in range(OF_EACH)]
                for name, make in makers.items()
            }
        )

    def cut(self, length: int, chance: _Chance) -> Samples:
        """A noise of this length at an RMS of one, one time in five of two kinds together."""
        noise = self._one(length, chance)
        if chance.random() < 0.2:
            noise = noise + np.float32(chance.uniform(0.3, 1.0)) * self._one(length, chance)
        return of_unit_level(noise)

    def _one(self, length: int, chance: _Chance) -> Samples:
        kind = str(chance.choice(list(SHARES), p=list(SHARES.values())))
        noise = self.noises[kind][int(chance.integers(OF_EACH))]
        first = int(chance.integers(LENGTH - length))
        return noise[first : first + length]


def spoiled(samples: Samples, stock: Stock, chance: _Chance) -> Samples:
    """Said by a larger or smaller head, in a room, coloured, softer or louder, mostly in noise."""
    sound = samples
    if chance.random() < 0.6:
        pace = chance.uniform(0.82, 1.22)
        at = np.arange(int(len(samples) / pace)) * pace
        sound = np.asarray(np.interp(at, np.arange(len(samples)), samples), np.float32)
    sound = np.pad(sound, (chance.uniform(0.1, 0.5, 2) * SAMPLE_RATE).astype(int))
    if chance.random() < 0.15:
        sound = reverberant(sound, 2 * int(chance.integers(1_000)))
    elif chance.random() < 0.6:
        sound = _coloured_by_room(sound, chance)
    sound = sound * np.float32(10 ** chance.uniform(-1.3, 0.2) / max(np.abs(sound).max(), 1e-6))
    if chance.random() < 0.88:
        sound = mixed(sound, stock.cut(len(sound), chance), chance.uniform(*RATIOS))
    if chance.random() < 0.08:
        sound = sound * np.float32(chance.uniform(2, 8) / max(np.abs(sound).max(), 1e-6))
    return np.asarray(np.clip(sound, -1.0, 1.0), np.float32)


def noise_alone(stock: Stock, chance: _Chance) -> Samples:
    """Half a second to four of noise."""
    length = int(chance.uniform(0.5, 4.0) * SAMPLE_RATE)
    level = np.float32(10 ** chance.uniform(-2.3, 0.3))
    return np.asarray(np.clip(level * stock.cut(length, chance), -1.0, 1.0), np.float32)


def _coloured_by_room(sound: Samples, chance: _Chance) -> Samples:
    """Through a microphone that favours some frequencies, in a room whose sound dies out evenly.

    The room is noise under an exponential (Polack, thesis, Université du Maine, 1988).
    """
    size = -(-(len(sound) + SAMPLE_RATE // 2) // 4_096) * 4_096
    octaves = np.log2(np.maximum(np.fft.rfftfreq(size, 1 / SAMPLE_RATE), 60.0))
    points = np.linspace(octaves[0], octaves[-1], 6)
    decibels = np.interp(octaves, points, chance.normal(0.0, 4.0, len(points)))
    spectrum = np.fft.rfft(sound, size) * (10 ** (decibels / 20)).astype(np.float32)
    if chance.random() < 0.5:
        spectrum *= np.fft.rfft(_response(chance), size).astype(np.complex64)
    return np.asarray(np.fft.irfft(spectrum, size)[: len(sound)], np.float32)


def _response(chance: _Chance) -> Samples:
    lasting = int(chance.uniform(0.1, 0.5) * SAMPLE_RATE)
    dying = np.exp(np.float32(-3 * np.log(10) / lasting) * np.arange(lasting, dtype=np.float32))
    later = chance.standard_normal(lasting, np.float32) * dying
    response = later * np.float32(chance.uniform(0.1, 0.7) / np.sqrt((later**2).sum()))
    response[0] = 1.0
    return np.asarray(response, np.float32)


def _coloured(length: int, seed: int) -> Samples:
    """Noise whose power falls with the frequency by none to six decibels an octave."""
    chance = np.random.default_rng(seed)
    frequencies = np.maximum(np.fft.rfftfreq(length, 1 / SAMPLE_RATE), 20.0)
    spectrum = np.fft.rfft(chance.standard_normal(length))
    shaped = np.fft.irfft(spectrum * frequencies ** (-chance.uniform(0.0, 1.0)), length)
    return of_unit_level(np.asarray(shaped, np.float32))
