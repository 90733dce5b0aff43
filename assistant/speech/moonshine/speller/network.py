"""The networks that spell: from frames to the probabilities of letters.

A convolution over a few neighbouring frames and more that see ever farther, each added to what came
before it, then a softmax over blank and letters. There are two: one reads the encoder's frames, the
other the bands of the sound itself. One encoder's frames mean nothing to a network that was taught
on another's, so the file names the encoder by its digest.
"""

from __future__ import annotations

import math
import zipfile
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Self

import numpy as np
from numpy.typing import NDArray

from assistant.speech.errors import ModelError
from assistant.speech.moonshine.speller.alignment import Frames, frames_of

__all__ = ["BANDS", "OF_BANDS", "OF_ENCODER", "Network"]

OF_ENCODER = Path(__file__).with_name("of-encoder.npz")
OF_BANDS = Path(__file__).with_name("of-bands.npz")
"""The networks that come with the program."""

BANDS = "bands"
"""What a network reads that reads no encoder's frames."""

_Values = NDArray[np.float32]

_GELU = math.sqrt(2 / math.pi)
"""No scalar of NumPy, which would make 64 bits of every value."""


@dataclass(frozen=True, slots=True)
class Network:
    """The taught weights.

    Args:
        reads: SHA-256 of the encoder's file, in hexadecimal, whose frames it reads; or `BANDS`.
        taught: what it was taught on, in words.
        mean: of each value of a frame, taken off first.
        scale: by which each is multiplied then.
        dilations: how far apart the frames are that each convolution sees.
        convolutions: weights of shape (taps, width in, width out) and offsets of each.
        letters: weights of shape (width, letters) and offsets.
    """

    reads: str
    taught: str
    mean: _Values
    scale: _Values
    dilations: tuple[int, ...]
    convolutions: tuple[tuple[_Values, _Values], ...]
    letters: tuple[_Values, _Values]

    @classmethod
    def load(cls, file: Path) -> Self:
        """Read the weights.

        Raises:
            ModelError: the file is missing or damaged.
        """
        try:
            with np.load(file, allow_pickle=False) as kept:
                return cls._of({name: kept[name] for name in kept.files})
        except (OSError, EOFError, KeyError, ValueError, zipfile.BadZipFile) as error:
            raise ModelError(
                f"{file}: missing or damaged, though it comes with the program; install gloveside "
                "again"
            ) from error

    @classmethod
    def _of(cls, values: dict[str, NDArray[np.generic]]) -> Self:
        dilations = tuple(int(apart) for apart in values["dilations"])
        weights = {
            name: value.astype(np.float32)
            for name, value in values.items()
            if value.ndim > 0 and name != "dilations"
        }
        return cls(
            reads=str(values["reads"]),
            taught=str(values["taught"]),
            mean=weights["mean"],
            scale=weights["scale"],
            dilations=dilations,
            convolutions=tuple(
                (weights[f"weights-{at}"], weights[f"offsets-{at}"]) for at in range(len(dilations))
            ),
            letters=(weights["weights-letters"], weights["offsets-letters"]),
        )

    def spell(self, frames: _Values) -> Frames:
        """What each frame says.

        Args:
            frames: of the encoder or of the bands, shape (frames, values).
        """
        first, *others = (
            partial(_convolution, weights, offsets, apart)
            for (weights, offsets), apart in zip(self.convolutions, self.dilations, strict=True)
        )
        values = first((frames - self.mean) * self.scale)
        for convolution in others:
            values = values + convolution(values)
        weights, offsets = self.letters
        return frames_of(values @ weights + offsets)


def _convolution(weights: _Values, offsets: _Values, apart: int, values: _Values) -> _Values:
    """Each frame with its neighbours, frames `apart` from each other, silence beyond the ends."""
    padding = len(weights) // 2 * apart
    padded = np.pad(values, ((padding, padding), (0, 0)))
    taps = [padded[at * apart : at * apart + len(values)] for at in range(len(weights))]
    # One large product is faster than one for each tap.
    joint = np.concatenate(taps, axis=1) @ weights.reshape(-1, weights.shape[2])
    return _gelu(np.asarray(joint + offsets))


def _gelu(values: _Values) -> _Values:
    """Gaussian error linear unit in its usual approximation (Hendrycks and Gimpel, 2016)."""
    inner = _GELU * (values + 0.044715 * values * values * values)
    return np.asarray(0.5 * values * (1 + np.tanh(inner)))
