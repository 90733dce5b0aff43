"""The speller: one network reads what the encoder heard, the other the bands of the sound itself.

They err on different words, so each proposes sentences and each weighs all that were proposed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, Self

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import ThreadpoolController

from assistant.language.grammar import Grammar
from assistant.speech.ears import Samples
from assistant.speech.moonshine.speller.bands import bands
from assistant.speech.moonshine.speller.judge import SpellingJudge
from assistant.speech.moonshine.speller.network import OF_BANDS, OF_ENCODER, Network
from assistant.speech.moonshine.speller.search import Terms

__all__ = ["UNSPELLED", "Speller", "Spelling", "SpellingJudges"]

UNSPELLED = -20.0
"""Nats that a sentence gets where nobody spells: as badly as counts at all. So it is believed less,
and not more, than with a second judge, and only where the decoder leaves no doubt."""


_PRODUCTS = ThreadpoolController()
"""The library that multiplies NumPy's matrices. It is held to one thread: two are 3 ms faster on an
idle machine, but they wait for each other by spinning, and where two other programs are at work the
networks then took 355 ms for 3.5 s of sound in place of 12 ms."""


class Spelling(NamedTuple):
    """How well a sentence is spelled, in nats from what is spelled freely."""

    by_encoder: float = UNSPELLED
    by_bands: float = UNSPELLED


@dataclass(frozen=True, slots=True)
class SpellingJudges:
    """What each network spells of an utterance, under one grammar."""

    by_encoder: SpellingJudge | None
    by_bands: SpellingJudge

    def proposals(self) -> list[Terms]:
        """The sentences that either spells best."""
        of_encoder = self.by_encoder.proposals() if self.by_encoder else []
        return list(dict.fromkeys([*of_encoder, *self.by_bands.proposals()]))

    def spelled(self, texts: Sequence[str]) -> list[Spelling]:
        """How well each written sentence is spelled."""
        of_encoder = self.by_encoder.spelled(texts) if self.by_encoder else [UNSPELLED] * len(texts)
        return list(map(Spelling, of_encoder, self.by_bands.spelled(texts)))


@dataclass(frozen=True, slots=True)
class Speller:
    """Both networks.

    Args:
        of_encoder: None where none was taught on the model's encoder.
        of_bands: serves every model.
    """

    of_encoder: Network | None
    of_bands: Network

    @classmethod
    def load(cls, encoder: str) -> Self:
        """The networks that come with the program.

        Args:
            encoder: SHA-256 of the model's encoder, in hexadecimal.

        Raises:
            ModelError: one of them is missing or damaged.
        """
        of_encoder, of_bands = Network.load(OF_ENCODER), Network.load(OF_BANDS)
        return cls(of_encoder if of_encoder.reads == encoder else None, of_bands)

    def judges(
        self, samples: Samples, encoding: NDArray[np.float32], grammar: Grammar
    ) -> SpellingJudges:
        """What they spell.

        Args:
            samples: the sound.
            encoding: what the encoder made of it, shape (1, frames, width).
            grammar: what may have been said; can be spelled (`can_spell`).
        """
        with _PRODUCTS.limit(limits=1, user_api="blas"):
            of_encoder = self.of_encoder.spell(encoding[0]) if self.of_encoder else None
            of_bands = self.of_bands.spell(bands(samples))
        by_encoder = None if of_encoder is None else SpellingJudge(grammar, of_encoder)
        return SpellingJudges(by_encoder, SpellingJudge(grammar, of_bands))
