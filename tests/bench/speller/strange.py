"""Somebody else: what the bands would show if another head had said it, at another pace.

The voices of the lessons are few. So each lesson is shown as from a head of another size (formants
moved, as in Jaitly and Hinton, ICML workshop on deep learning for audio, speech and language
processing, 2013), spoken faster or slower, through another microphone, and with bands or moments
blotted out (Park et al., Interspeech 2019). All of it is done on the bands, which costs nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.speller.bands import BANDS, TOGETHER, VALUES, Bands, centres, mel

__all__ = ["stranger"]

SHARE = 0.7
"""How often a lesson is bent at all."""

HEADS = 0.86, 1.17
"""By how much formants are higher."""

PACES = 0.85, 1.2

TILT = 0.6
"""Nats by which a microphone favours bands, at points between which it changes evenly."""

BLOTS = 2
"""At most, of bands and of moments."""

WIDEST, LONGEST = 6, 6
"""Bands of a blot, and spectra (of 8 ms) of one."""

_Chance = np.random.Generator
_Spectra = NDArray[np.float32]
"""Shape (spectra, views, bands)."""


def stranger(heard: Bands, chance: _Chance) -> Bands:
    """What the bands of an utterance could be if somebody else had said it.

    Args:
        heard: as by `bands`, shape (frames, values).
        chance: decides on the person.
    """
    if chance.random() > SHARE:
        return heard
    spectra = heard.reshape(-1, 2, BANDS)
    spectra = _of_pace(spectra, chance.uniform(*PACES))
    spectra = _of_head(spectra, chance.uniform(*HEADS))
    spectra[:, 0] += _microphone(chance)
    _blot(spectra, chance)
    count = len(spectra) // TOGETHER
    return spectra[: count * TOGETHER].reshape(count, VALUES)


def _of_pace(spectra: _Spectra, pace: float) -> _Spectra:
    at = np.minimum(np.arange(int(len(spectra) / pace)) * pace, len(spectra) - 1)
    before = at.astype(int)
    after = np.minimum(before + 1, len(spectra) - 1)
    share = (at - before).astype(np.float32)[:, np.newaxis, np.newaxis]
    return np.asarray((1 - share) * spectra[before] + share * spectra[after])


def _of_head(spectra: _Spectra, head: float) -> _Spectra:
    heights = np.array([mel(frequency) for frequency in centres()])
    looked = np.array([mel(frequency / head) for frequency in centres()])
    at = np.clip(np.interp(looked, heights, np.arange(BANDS)), 0, BANDS - 1)
    before = at.astype(int)
    after = np.minimum(before + 1, BANDS - 1)
    share = (at - before).astype(np.float32)
    return np.asarray((1 - share) * spectra[:, :, before] + share * spectra[:, :, after])


def _microphone(chance: _Chance) -> NDArray[np.float32]:
    points = chance.normal(0.0, TILT, 5)
    favoured = np.interp(np.linspace(0, 4, BANDS), np.arange(5), points)
    return np.asarray(favoured, np.float32)


def _blot(spectra: _Spectra, chance: _Chance) -> None:
    usual = spectra.mean(axis=0)
    for _ in range(int(chance.integers(BLOTS + 1))):
        first = int(chance.integers(BANDS))
        last = first + int(chance.integers(1, WIDEST + 1))
        spectra[:, :, first:last] = usual[:, first:last]
    for _ in range(int(chance.integers(BLOTS + 1))):
        begin = int(chance.integers(len(spectra)))
        spectra[begin : begin + int(chance.integers(1, LONGEST + 1))] = usual
