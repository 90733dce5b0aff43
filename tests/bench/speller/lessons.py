"""Texts said by development voices, spoiled as a plant spoils them, and encoded.

Beside the voices of the benchmark's development part these are their relatives: espeak-ng's accents
with its many variants, paces and pitches, and mixtures of kokoro's speakers of that part.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping

import numpy as np

from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.moonshine.encoder_decoder import EncoderDecoder, Encoding
from tests.bench.engines import ENGINES, spoken_by, spoken_by_mixture
from tests.bench.mixing import mixed
from tests.bench.noises import MACHINES, Maker
from tests.bench.rooms import reverberant
from tests.bench.speller.texts import texts

__all__ = ["Lesson", "lessons", "of_nothing"]

Lesson = tuple[str, Encoding]
"""What is said, and what the encoder makes of it."""

ACCENTS = (
    "en-us",
    "en-gb",
    "en-gb-x-rp",
    "en-gb-scotland",
    "en-029",
    "en-gb-x-gbclan",
    "en-gb-x-gbcwmd",
    "en-us-nyc",
)

VARIANTS = (
    *(f"m{number}" for number in range(1, 9)),
    *("f1", "f2", "f4", "f5", "klatt", "klatt2", "klatt3", "croak", "Denis", "Andrea"),
    *("Mario", "steph", "Storm", "Annie", "belinda", "grandma"),
)

KOKORO = ("jf_gongitsune", "jf_nezumi", "jf_tebukuro")
"""Its speakers that are not in the test part."""

SAID: Mapping[str, tuple[int, int]] = {
    "espeak-ng": (5_000, 2),
    "hibari": (1_300, 2),
    "flite": (240, 2),
    "festival": (80, 2),
    "kokoro": (130, 6),
}
"""How many texts each engine says, and how many lessons are made of each."""


def lessons(graphs: EncoderDecoder, babble: Maker, engine: str, seed: int) -> Iterator[Lesson]:
    """Every lesson of an engine.

    Args:
        graphs: the model.
        babble: of development voices and sentences.
        engine: a key of `SAID`.
        seed: which draw.
    """
    chance = random.Random(seed)
    numbers = np.random.default_rng(seed)
    said, copies = SAID[engine]
    speak = _SPEAKERS[engine]
    for _, text in zip(range(said), texts(chance), strict=False):
        samples = speak(text, chance)
        for _ in range(copies):
            yield text, graphs.encode(_spoiled(samples, babble, numbers))


NOTHING_SAID = 900


def of_nothing(graphs: EncoderDecoder, babble: Maker, seed: int) -> Iterator[Lesson]:
    """Noise and babble alone, in which nothing is to be spelled; without them, hiss says "hold"."""
    numbers = np.random.default_rng(seed)
    makers = (*MACHINES.values(), babble, _white, _white)
    for _ in range(NOTHING_SAID):
        make = makers[numbers.integers(len(makers))]
        length = int(numbers.uniform(0.5, 4.0) * SAMPLE_RATE)
        level = np.float32(10 ** numbers.uniform(-2.3, 0.3))
        noise = make(length, 2 * int(numbers.integers(10**6)))
        yield "", graphs.encode(np.clip(level * noise, -1.0, 1.0))


def _white(length: int, seed: int) -> Samples:
    return np.random.default_rng(seed).standard_normal(length).astype(np.float32)


def _espeak(text: str, chance: random.Random) -> Samples:
    voice = f"{chance.choice(ACCENTS)}+{chance.choice(VARIANTS)}"
    pace, pitch = str(chance.randint(120, 200)), str(chance.randint(20, 80))
    return spoken_by("espeak-ng", "-v", voice, "-s", pace, "-p", pitch, "-w", "FILE", text)


_SPEAKERS: Mapping[str, Callable[[str, random.Random], Samples]] = {
    "espeak-ng": _espeak,
    "hibari": lambda text, chance: ENGINES["hibari"]("heart", text),
    "flite": lambda text, chance: ENGINES["flite"]("kal16", text),
    "festival": lambda text, chance: ENGINES["festival"]("kal_diphone", text),
    "kokoro": lambda text, chance: spoken_by_mixture(KOKORO, text, chance),
}


def _spoiled(samples: Samples, babble: Maker, chance: np.random.Generator) -> Samples:
    """Said faster or slower, in a room, softer or louder, and most often in noise."""
    pace = chance.uniform(0.88, 1.13) if chance.random() < 0.5 else 1.0
    at = np.arange(int(len(samples) / pace)) * pace
    spoiled = np.interp(at, np.arange(len(samples)), samples)
    before, after = (chance.uniform(0.1, 0.5, 2) * SAMPLE_RATE).astype(int)
    sound = np.asarray(np.pad(spoiled, (before, after)), np.float32)
    if chance.random() < 0.25:
        sound = reverberant(sound, 2 * int(chance.integers(1_000)))
    sound = sound * np.float32(10 ** chance.uniform(-1.3, 0.2))
    if chance.random() < 0.8:
        makers = (*MACHINES.values(), babble)
        noise = makers[chance.integers(len(makers))](len(sound), 2 * int(chance.integers(10**6)))
        sound = mixed(sound, noise, chance.uniform(-1, 22))
    return np.clip(sound, -1.0, 1.0)
