"""From the sentences that a search found to what they mean.

A sentence can be written in many ways ("One, two closed." and "1 and 2 closed"), and different
sentences mean the same. What they have in common is their meaning, so their probabilities add up.
Sentences that the graph allows but that mean nothing ("one open one closed"), or two things at
once, are kept together as a reading without a meaning: it can win, and then nothing was understood.

Two judges weigh a sentence: the decoder, which knows how people write, and the speller, which only
knows how words sound. What is seldom said has to be heard better than what is said at every step;
what an answer decides plays no part in that, and "hold" is never made harder to say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.language.commands import GLOBAL_WORDS
from assistant.language.meaning import Command, Meaning, Word
from assistant.speech.moonshine.search import NON_SPEECH_WEIGHT, Path
from assistant.speech.moonshine.speller.speller import Spelling

__all__ = ["Reading", "readings", "unspelled"]

SPELLED_WEIGHTS = Spelling(by_encoder=0.1, by_bands=0.5)
"""The share of what each network of the speller says, in nats for each of its nats."""

SELDOM = 2.0
"""Nats by which a command must be heard better than an answer."""

MEANINGLESS = 3.0
"""Nats by which a sentence that means nothing must be heard better than an answer."""


@dataclass(frozen=True, slots=True)
class Reading:
    """All the sentences found that mean one thing.

    Args:
        meaning: what they mean; None for those that mean nothing.
        text: the best of them as written.
        heard: log-probability of any of them given the audio.
        unheard: log-probability of any of them given no speech.
        spelled: how well the one that is spelled best is spelled, by each network.
    """

    meaning: Meaning | None
    text: str
    heard: float
    unheard: float
    spelled: Spelling

    @property
    def evidence(self) -> float:
        """By how much the audio speaks for it more than noise does, in nats."""
        return self.heard - self.unheard

    @property
    def score(self) -> float:
        """How far both judges speak for it, in nats, for comparison with other readings."""
        judged = self.heard - NON_SPEECH_WEIGHT * self.unheard + _weighed(self.spelled)
        return judged - _seldom_said(self.meaning)

    @property
    def share_of_encoder(self) -> float:
        """How much of the score the encoder's speller has given, in nats."""
        return SPELLED_WEIGHTS.by_encoder * self.spelled.by_encoder


def readings(
    paths: Iterable[Path],
    written: Callable[[tuple[int, ...]], str],
    parse: Callable[[str], Meaning | None],
    spelled: Callable[[Sequence[str]], Sequence[Spelling]],
) -> list[Reading]:
    """The readings of the sentences found, best first.

    Args:
        paths: the sentences, best first.
        written: from the tokens of a sentence to its text.
        parse: from a text to its meaning.
        spelled: from texts to how well each is spelled (see `Reading`).
    """
    paths = list(paths)
    texts = [written(path.tokens) for path in paths]
    groups: dict[Meaning | None, list[tuple[Path, str, Spelling]]] = {}
    for path, text, well in zip(paths, texts, spelled(texts), strict=True):
        groups.setdefault(parse(text), []).append((path, text, well))
    found = [
        Reading(
            meaning,
            group[0][1],
            _sum(path.heard for path, _, _ in group),
            _sum(path.unheard for path, _, _ in group),
            max((well for _, _, well in group), key=_weighed),
        )
        for meaning, group in groups.items()
    ]
    return sorted(found, key=lambda reading: reading.score, reverse=True)


def unspelled(texts: Sequence[str]) -> list[Spelling]:
    """Where a grammar cannot be spelled."""
    return [Spelling()] * len(texts)


def _weighed(spelled: Spelling) -> float:
    return float(np.dot(SPELLED_WEIGHTS, spelled))


def _seldom_said(meaning: Meaning | None) -> float:
    match meaning:
        case None:
            return MEANINGLESS
        case Command(Word.HOLD):
            return 0.0
        case Command(word) if word in GLOBAL_WORDS:
            return SELDOM
    return 0.0


def _sum(logarithms: Iterable[float]) -> float:
    return float(np.logaddexp.reduce(list(logarithms)))
