"""Development speech of people from whom the speller has not learnt.

It has learnt from every voice of the development part, in babble of these voices. How far it may
be believed with somebody else can only be told on others: variants of espeak-ng's voices and six of
kokoro's that are in no lesson, the other voices of that part as from a shorter or a longer head,
and the human words, all in babble of such voices that say sentences of their own.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import Samples
from tests.bench import human
from tests.bench.cases import Item, groups, kept
from tests.bench.conditions import Condition
from tests.bench.noises import MACHINES, Maker
from tests.bench.parts import Part, seed
from tests.bench.replies import sample
from tests.bench.talk import babble
from tests.bench.voices import Speakers, Voice

__all__ = ["STRANGERS", "Stranger", "bent", "heard_of_strangers", "noises_of_strangers"]

_PART = Part.DEVELOPMENT


@dataclass(frozen=True, slots=True)
class Stranger:
    """Somebody from whom nothing was learnt.

    Args:
        voice: a synthetic voice.
        head: by how much its formants are higher.
    """

    voice: Voice
    head: float = 1.0

    def __str__(self) -> str:
        return str(self.voice) if self.head == 1.0 else f"{self.voice} by {self.head:g}"

    def say(self, text: str, speakers: Speakers) -> Samples:
        """The text, as this person says it."""
        said = speakers.say(text, self.voice)
        return said if self.head == 1.0 else bent(said, self.head)


_VARIANTS = (
    "en-us+Alex",
    "en-gb+Alicia",
    "en-gb-scotland+paul",
    "en-029+linda",
    "en-us-nyc+Michael",
    "en-gb-x-rp+edward",
    "en-gb-x-gbclan+victor",
    "en-us+quincy",
)

_HEADS = (0.86, 1.16)

_FROM_ELSEWHERE = ("af_alloy", "am_adam", "bf_isabella", "bm_lewis", "hf_beta", "zm_yunyang")
"""Two Americans, two British, one from India and one from China."""

STRANGERS = (
    *(Stranger(Voice("espeak-ng", name)) for name in _VARIANTS),
    *(
        Stranger(Voice(engine, name), head)
        for engine, name in (
            ("flite", "kal16"),
            ("festival", "kal_diphone"),
            ("hibari", "heart"),
            ("kokoro", "jf_gongitsune"),
            ("kokoro", "jf_nezumi"),
        )
        for head in _HEADS
    ),
    *(Stranger(Voice("kokoro", name)) for name in _FROM_ELSEWHERE),
)

SENTENCES = (
    "Her brother works in a bank near the old market.",
    "We took the ferry because the bridge was shut.",
    "How much did you pay for that jacket?",
    "The cat has been asleep on my chair all day.",
    "It takes a good hour to walk up to the castle.",
    "Remember to water the tomatoes in the evening.",
    "I would not buy a house so close to the airport.",
    "They danced until the musicians went home.",
    "The plumber wants to come back on Tuesday.",
    "You should have seen the look on his face.",
)
"""Invented, none a reply, none in a lesson."""

REPLIES, WORDS = 60, 25
"""Replies of jobs, and human words, under each condition."""


def noises_of_strangers(speakers: Speakers, speech: Path | None) -> Mapping[str, Maker]:
    """The noises of machines, and babble of strangers."""
    talking = [[one.say(text, speakers) for text in SENTENCES] for one in STRANGERS]
    recorded = [[samples for _, samples in human.unrelated(_PART, speech)]] if speech else []
    return {**MACHINES, "babble": babble(talking + recorded)}


def heard_of_strangers(
    conditions: Sequence[Condition], speakers: Speakers, speech: Path | None
) -> Iterator[tuple[Item, Condition, Samples]]:
    """Replies of strangers under every condition.

    Args:
        conditions: under which.
        speakers: say what the synthetic ones say.
        speech: folder of human speech, if there is one.
    """
    makers = noises_of_strangers(speakers, speech)
    for condition in conditions:
        for item in _items(str(condition), speakers, speech):
            chosen = seed(_PART, "strangers", str(condition), item.label)
            yield item, condition, condition.heard(item.sound(), chosen, makers)


def _items(draw: str, speakers: Speakers, speech: Path | None) -> Iterator[Item]:
    chance = random.Random(draw)
    for said in sample(REPLIES, chance.randrange(2**32)):
        one = chance.choice(STRANGERS)
        asked = type(said.question).__name__ + (", read back" if said.read_back else "")
        label = f"{said.text} ({one}) to {asked}"
        sound = one.say(said.text, speakers)
        yield Item(label, said.grammar, said.meaning, partial(kept, sound))
    for group in groups(_PART, speakers, 10_000, speech):
        if group.name == "human words that answer":
            yield from chance.sample(group.items, min(WORDS, len(group.items)))


_WINDOW, _HOP = 512, 128
_SMOOTH = 36
"""Cepstral values of an envelope: up to 2.25 ms, so that it holds no pitch."""


def bent(samples: Samples, head: float) -> Samples:
    """The samples with all formants higher by a factor, and the pitch as it was."""
    window = np.hanning(_WINDOW + 1)[:-1]
    padded = np.pad(samples.astype(np.float64), (_WINDOW, 2 * _WINDOW))
    starts = range(0, len(padded) - _WINDOW, _HOP)
    spectra = np.fft.rfft([padded[at : at + _WINDOW] * window for at in starts])
    envelope = _envelope(spectra)
    bins = np.arange(envelope.shape[1], dtype=np.float64)
    moved = np.array([np.interp(bins / head, bins, row) for row in envelope])
    frames = np.fft.irfft(spectra * np.exp(np.clip(moved - envelope, -3.0, 3.0))) * window
    total = np.zeros(len(padded))
    for at, frame in zip(starts, frames, strict=True):
        total[at : at + _WINDOW] += frame
    made = total[_WINDOW : _WINDOW + len(samples)] / 1.5  # squared windows add up to 1.5
    return np.asarray(made, np.float32)


def _envelope(spectra: NDArray[np.complex128]) -> NDArray[np.float64]:
    cepstra = np.fft.irfft(np.log(np.abs(spectra) + 1e-6))
    cepstra[:, _SMOOTH : _WINDOW - _SMOOTH + 1] = 0.0
    return np.asarray(np.fft.rfft(cepstra).real)
