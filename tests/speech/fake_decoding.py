"""A decoder that has heard sentences in letters, for tests of what goes on with it."""

from __future__ import annotations

import string
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.pieces import END, Pieces

LETTERS = Pieces(map(str.encode, ["<unk>", "<s>", "</s>", "▁", *string.ascii_letters, ",", "."]))

Weights = Mapping[tuple[int, ...], float]


def distribution(weights: Weights, prefix: tuple[int, ...]) -> NDArray[np.float32]:
    """Log-probabilities of the next piece, if whole sentences have these probabilities."""
    row = np.full(len(LETTERS), 1e-30)
    for sentence, weight in weights.items():
        if sentence[: len(prefix)] == prefix:
            row[(*sentence, END)[len(prefix)]] += weight
    return np.asarray(np.log(row / row.sum()), np.float32)


@dataclass
class FakeDecoding:
    """A decoder that has heard sentences with given probabilities."""

    weights: Weights
    prefixes: Sequence[tuple[int, ...]] = ((),)
    calls: list[int] = field(default_factory=list)

    @property
    def following(self) -> NDArray[np.float32]:
        return np.stack([distribution(self.weights, prefix) for prefix in self.prefixes])

    def extend(self, rows: Sequence[int], tokens: Sequence[int]) -> FakeDecoding:
        self.calls.append(len(rows))
        longer = [(*self.prefixes[row], token) for row, token in zip(rows, tokens, strict=True)]
        return FakeDecoding(self.weights, longer, self.calls)


def heard(**probabilities: float) -> Weights:
    return {LETTERS.segment(text): share for text, share in probabilities.items()}
