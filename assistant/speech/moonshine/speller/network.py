"""The network that spells: from the encoder's frames to the probabilities of letters.

A convolution over five frames and three more that see ever farther, each added to what came before
it, then a softmax over blank and letters. One encoder's frames mean nothing to a network that was
taught on another's, so the file names the encoder by its digest.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Self

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.speller.alignment import Frames, frames_of

__all__ = ["DILATIONS", "FILE", "Network"]

FILE = Path(__file__).with_name("letters.npz")

DILATIONS = (1, 1, 2, 4)
"""How far apart the five frames are that each convolution sees."""

_REACH = 2
"""Frames to each side, of that distance."""

_Values = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Network:
    """The taught weights.

    Args:
        encoder: SHA-256 of the encoder's file, in hexadecimal.
        taught: what it was taught on, in words.
        mean: of each of the encoder's values, taken off first.
        scale: by which each is multiplied then.
        convolutions: weights of shape (5, width in, width out) and offsets of each.
        letters: weights of shape (width, letters) and offsets.
    """

    encoder: str
    taught: str
    mean: _Values
    scale: _Values
    convolutions: tuple[tuple[_Values, _Values], ...]
    letters: tuple[_Values, _Values]

    @classmethod
    def load(cls, file: Path = FILE) -> Self:
        """Read the weights that come with the program."""
        with np.load(file, allow_pickle=False) as kept:
            values = {name: kept[name] for name in kept.files}
        weights = {
            name: value.astype(np.float32) for name, value in values.items() if value.ndim > 0
        }
        return cls(
            encoder=str(values["encoder"]),
            taught=str(values["taught"]),
            mean=weights["mean"],
            scale=weights["scale"],
            convolutions=tuple(
                (weights[f"weights-{at}"], weights[f"offsets-{at}"]) for at in range(len(DILATIONS))
            ),
            letters=(weights["weights-letters"], weights["offsets-letters"]),
        )

    def hears_by(self, encoder: Path) -> bool:
        """Whether it was taught on the frames of this encoder."""
        return hashlib.sha256(encoder.read_bytes()).hexdigest() == self.encoder

    def spell(self, encoding: _Values) -> Frames:
        """What each frame says.

        Args:
            encoding: what the encoder made of audio, shape (1, frames, width).
        """
        first, *others = (
            partial(_convolution, weights, offsets, apart)
            for (weights, offsets), apart in zip(self.convolutions, DILATIONS, strict=True)
        )
        values = first((encoding[0] - self.mean) * self.scale)
        for convolution in others:
            values = values + convolution(values)
        weights, offsets = self.letters
        return frames_of(values @ weights + offsets)


def _convolution(weights: _Values, offsets: _Values, apart: int, values: _Values) -> _Values:
    """Each frame with its neighbours, frames `apart` from each other, silence beyond the ends."""
    padding = _REACH * apart
    padded = np.pad(values, ((padding, padding), (0, 0)))
    taps = [padded[at * apart : at * apart + len(values)] for at in range(len(weights))]
    # One product, not one for each tap: that wakes the threads of the library once.
    joint = np.concatenate(taps, axis=1) @ weights.reshape(-1, weights.shape[2])
    return _gelu(np.asarray(joint + offsets))


def _gelu(values: _Values) -> _Values:
    """Gaussian error linear unit in its usual approximation (Hendrycks and Gimpel, 2016)."""
    inner = np.sqrt(2 / np.pi) * (values + 0.044715 * values**3)
    return np.asarray(0.5 * values * (1 + np.tanh(inner)))
