"""From the sentences that a search found to what they mean.

A sentence can be written in many ways ("One, two closed." and "1 and 2 closed"), and different
sentences mean the same. What they have in common is their meaning, so their probabilities add up.
Sentences that the graph allows but that mean nothing ("one open one closed"), or two things at
once, are kept together as a reading without a meaning: it can win, and then nothing was understood.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from assistant.language.meaning import Meaning
from assistant.speech.moonshine.search import Path

__all__ = ["Reading", "readings"]

CHOICE_WEIGHT = 0.4
"""The share of the non-speech prior that is taken off when readings are compared."""


@dataclass(frozen=True, slots=True)
class Reading:
    """All the sentences found that mean one thing.

    Args:
        meaning: what they mean; None for those that mean nothing.
        text: the best of them as written.
        heard: log-probability of any of them given the audio.
        unheard: log-probability of any of them given no speech.
    """

    meaning: Meaning | None
    text: str
    heard: float
    unheard: float

    def score(self, weight: float = CHOICE_WEIGHT) -> float:
        """How far the audio speaks for the meaning, in nats."""
        return self.heard - weight * self.unheard


def readings(
    paths: Iterable[Path],
    written: Callable[[tuple[int, ...]], str],
    parse: Callable[[str], Meaning | None],
) -> list[Reading]:
    """The readings of the sentences found, best first.

    Args:
        paths: the sentences, best first.
        written: from the tokens of a sentence to its text.
        parse: from a text to its meaning.
    """
    groups: dict[Meaning | None, list[tuple[str, Path]]] = {}
    for path in paths:
        text = written(path.tokens)
        groups.setdefault(parse(text), []).append((text, path))
    found = [
        Reading(
            meaning,
            group[0][0],
            _sum(path.heard for _, path in group),
            _sum(path.unheard for _, path in group),
        )
        for meaning, group in groups.items()
    ]
    return sorted(found, key=Reading.score, reverse=True)


def _sum(logarithms: Iterable[float]) -> float:
    return float(np.logaddexp.reduce(list(logarithms)))
