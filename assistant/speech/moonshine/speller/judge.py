"""What the speller makes of an utterance under a grammar."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from assistant.language.grammar import Grammar
from assistant.speech.moonshine.speller.alignment import Frames, log_likelihoods
from assistant.speech.moonshine.speller.alphabet import ALPHABET
from assistant.speech.moonshine.speller.search import Terms, spelled_best

__all__ = ["LEAST", "SpellingJudge", "can_spell"]

LEAST = -40.0
"""Nats; nothing is spelled worse than this."""

_MOST = 6
"""How many sentences a network proposes. On 297 replies of development speech in noise the right
one was among the four that one of the two spelled best, and for 296 among the three."""


def can_spell(grammar: Grammar) -> bool:
    """Whether every word that may be said is written in the letters of the alphabet."""
    return set("".join(grammar.vocabulary())) <= set(ALPHABET)


@dataclass(frozen=True, slots=True)
class SpellingJudge:
    """What one network spells of an utterance, under a grammar that can be spelled."""

    grammar: Grammar
    frames: Frames

    def proposals(self) -> list[Terms]:
        """The sentences that are spelled best, best first."""
        return spelled_best(self.grammar, self.frames, _MOST)

    def spelled(self, texts: Iterable[str]) -> list[float]:
        """How well each written sentence is spelled, in nats from what is spelled freely."""
        said = [self.grammar.as_said(text) for text in texts]
        well = log_likelihoods(self.frames, [text or "" for text in said])
        return [
            LEAST if text is None else max(float(one), LEAST)
            for text, one in zip(said, well, strict=True)
        ]
