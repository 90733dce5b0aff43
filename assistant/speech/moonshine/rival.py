"""The free rival: what the model would write if no grammar held it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, Self

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.pieces import END

__all__ = ["Rival", "free_rival"]

_MOST_PIECES = 40
"""A reply of the job has at most some 40 pieces; a longer sentence is none of it anyway."""


class _Decoding(Protocol):
    @property
    def following(self) -> NDArray[np.float32]: ...

    def extend(self, rows: Sequence[int], tokens: Sequence[int]) -> Self: ...


@dataclass(frozen=True, slots=True)
class Rival:
    """A sentence outside any grammar.

    Args:
        tokens: its pieces, without start and end token.
        heard: its log-probability given the audio.
    """

    tokens: tuple[int, ...]
    heard: float


def free_rival(decoding: _Decoding) -> Rival:
    """The sentence made of the likeliest piece at each step.

    Args:
        decoding: the decoder at the beginning of the audio.
    """
    tokens: list[int] = []
    heard = 0.0
    while True:
        token = int(decoding.following[0].argmax())
        heard += float(decoding.following[0, token])
        if token == END or len(tokens) == _MOST_PIECES:
            return Rival(tuple(tokens), heard)
        tokens.append(token)
        decoding = decoding.extend([0], [token])
