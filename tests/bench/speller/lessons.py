"""Lessons: what was said, spoiled, as the encoder hears it and as the bands show it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import Samples
from assistant.speech.moonshine.speller.alphabet import ALPHABET
from tests.bench.speller.say import Plain
from tests.bench.speller.spoiling import Stock, noise_alone, spoiled

__all__ = ["LENGTHS", "LONGEST_TEXT", "Frames", "Lesson", "lessons", "together"]

Frames = NDArray[np.float32]
"""Shape (frames, values)."""

Lesson = tuple[str, Frames]
"""What is said, and what is heard of it."""

SHARE_OF_NOTHING = 0.05
"""Noise alone, in which nothing is to be spelled; without it, hiss says "hold"."""

SHARES = {"espeak-ng": 0.3, "hibari": 0.15, "kokoro": 0.38, "flite": 0.09, "festival": 0.08}
"""How often each engine of `say.SAID` speaks: those that sound like people oftener than they said
texts."""

LENGTHS = (60, 90, 130, 180, 240)
"""Frames to which lessons are filled up, so that few shapes are compiled; longer ones are left."""

LONGEST_TEXT = 60
"""Letters."""

TOGETHER = 48
"""Lessons in a batch."""

_BATCHES = 8


def lessons(
    said: Mapping[str, Sequence[Plain]],
    stock: Stock,
    heard: Callable[[Samples], Frames],
    seed: int,
) -> Iterator[Lesson]:
    """Lesson after lesson, without end.

    Args:
        said: texts with their sound, by engine.
        stock: noises.
        heard: from samples to frames.
        seed: which draw.
    """
    chance = np.random.default_rng(seed)
    shares = np.array([SHARES[engine] for engine in said])
    engines = list(said.values())
    while True:
        if chance.random() < SHARE_OF_NOTHING:
            lesson = "", heard(noise_alone(stock, chance))
        else:
            of_engine = engines[int(chance.choice(len(engines), p=shares / shares.sum()))]
            text, sound = of_engine[int(chance.integers(len(of_engine)))]
            plain = sound.astype(np.float32) / np.float32(32_768)
            lesson = text, heard(spoiled(plain, stock, chance))
        if _fits(lesson):
            yield lesson


def together(given: Iterator[Lesson], seed: int) -> Iterator[list[Lesson]]:
    """Batches of lessons that are about as long as each other."""
    chance = np.random.default_rng(seed)
    while True:
        some = [lesson for lesson, _ in zip(given, range(_BATCHES * TOGETHER), strict=False)]
        some.sort(key=lambda lesson: len(lesson[1]))
        for batch in chance.permutation(_BATCHES):
            yield some[batch * TOGETHER : (batch + 1) * TOGETHER]


def _fits(lesson: Lesson) -> bool:
    text, frames = lesson
    written = set(text) <= set(ALPHABET) and len(text) <= LONGEST_TEXT
    return written and len(text) < len(frames) <= LENGTHS[-1]
