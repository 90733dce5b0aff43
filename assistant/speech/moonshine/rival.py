"""The free rival: what the model would write if no grammar held it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, Self

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.pieces import END

__all__ = ["FreeRival", "Rival"]

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


class FreeRival:
    """The sentence made of the likeliest piece at each step.

    It goes on by itself, or beside a search on the same audio: a call of the decoder takes hardly
    longer for one more row.

    Args:
        beginning: the decoder at the beginning of the audio.
    """

    def __init__(self, beginning: _Decoding) -> None:
        self._beginning = beginning
        self._tokens: list[int] = []
        self._heard = 0.0
        self._has_ended = False
        self._stand_at(beginning, 0)

    def beside(self) -> _Beside:
        """The beginning of the audio for a search, whose calls carry the rival on."""
        return _Beside(self, self._beginning, 1)

    def whole(self) -> Rival:
        """The sentence to its end."""
        while not self._has_ended:
            self._stand_at(self._decoding.extend([self._row], [self._tokens[-1]]), 0)
        return Rival(tuple(self._tokens), self._heard)

    def carried_on(
        self, decoding: _Decoding, rows: Sequence[int], tokens: Sequence[int]
    ) -> _Decoding:
        """The decoding extended as a search wants it, and last by the rival, if that goes on."""
        if self._has_ended:
            return decoding.extend(rows, tokens)
        further = decoding.extend([*rows, self._row], [*tokens, self._tokens[-1]])
        self._stand_at(further, len(rows))
        return further

    def _stand_at(self, decoding: _Decoding, row: int) -> None:
        """Take the likeliest piece after this row."""
        self._decoding, self._row = decoding, row
        token = int(decoding.following[row].argmax())
        self._heard += float(decoding.following[row, token])
        self._has_ended = token == END or len(self._tokens) == _MOST_PIECES
        if not self._has_ended:
            self._tokens.append(token)


@dataclass(frozen=True, slots=True)
class _Beside:
    """A decoding whose calls carry the rival on; the search sees its own rows only."""

    rival: FreeRival
    decoding: _Decoding
    rows: int

    @property
    def following(self) -> NDArray[np.float32]:
        return self.decoding.following[: self.rows]

    def extend(self, rows: Sequence[int], tokens: Sequence[int]) -> _Beside:
        return _Beside(self.rival, self.rival.carried_on(self.decoding, rows, tokens), len(rows))
