"""The probability that frames spell a text: connectionist temporal classification.

A frame says a letter or nothing (a blank). A text is spelled by every sequence of frames that gives
it when repeated letters are taken for one and blanks are left out. The sum over all of them is
worked out letter by letter: a `Spelled` holds, for every frame, the probability that a beginning of
a text has been spelled by then. Source: Graves, Fernández, Gomez and Schmidhuber, Connectionist
temporal classification, ICML 2006, section 4.1; the probability of a beginning as in Graves,
Supervised sequence labelling with recurrent neural networks, 2012, section 7.5.

All probabilities here are divided by those of the likeliest letter of each frame, whatever it is.
That keeps them within the range of numbers, and makes the logarithm of a text's probability its
distance in nats from what would be spelled freely.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.speller.alphabet import ALPHABET

__all__ = ["BLANK", "Frames", "Spelled", "frames_of", "log_likelihoods", "nothing"]

BLANK = 0

_NUMBERS = {letter: number for number, letter in enumerate(ALPHABET, start=1)}

Frames = NDArray[np.float64]
"""Probabilities of blank and letters, the likeliest of each frame 1, shape (frames, letters)."""

_Rows = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Spelled:
    """Beginnings of texts, one in each row, on the same frames.

    Args:
        in_letter: probability of having spelled it by a frame that says its last letter, shape
            (frames + 1, rows); the first is before any frame.
        in_blank: the same, by a frame that says nothing.
        last: number of the last letter of each; `BLANK` where there is none.
        begun: probability that it is spelled at all, whatever follows, shape (rows,).
    """

    in_letter: _Rows
    in_blank: _Rows
    last: NDArray[np.int64]
    begun: NDArray[np.float64]

    @property
    def ended(self) -> NDArray[np.float64]:
        """Probability that it is all that is spelled, shape (rows,)."""
        return np.asarray(self.in_letter[-1] + self.in_blank[-1])

    def rows(self, chosen: Sequence[int]) -> Spelled:
        """The chosen rows; a row may be chosen often."""
        at = np.asarray(chosen, np.int64)
        return Spelled(self.in_letter[:, at], self.in_blank[:, at], self.last[at], self.begun[at])

    def then(self, frames: Frames, texts: Sequence[str]) -> Spelled:
        """Every row with a text appended, letter by letter; texts may differ in length.

        Raises:
            KeyError: a text has a character that is not in `ALPHABET`.
        """
        longest = max(map(len, texts), default=0)
        letters = np.array(
            [
                [_NUMBERS[text[at]] if at < len(text) else BLANK for at in range(longest)]
                for text in texts
            ],
            np.int64,
        ).reshape(len(texts), longest)
        spelled = self
        for at in range(longest):
            spelled = spelled._with_letter(frames, letters[:, at])
        return spelled

    def _with_letter(self, frames: Frames, letters: NDArray[np.int64]) -> Spelled:
        """Append a letter to each row; `BLANK` leaves a row as it is."""
        going = letters != BLANK
        repeated = np.where(letters == self.last, 0.0, 1.0)
        before = (self.in_blank + repeated * self.in_letter)[:-1]
        says, silent = frames[:, letters], frames[:, BLANK]
        fresh = before * says
        in_letter, in_blank = np.zeros_like(self.in_letter), np.zeros_like(self.in_blank)
        for frame in range(len(frames)):
            in_letter[frame + 1] = in_letter[frame] * says[frame] + fresh[frame]
            in_blank[frame + 1] = (in_blank[frame] + in_letter[frame]) * silent[frame]
        return Spelled(
            np.where(going, in_letter, self.in_letter),
            np.where(going, in_blank, self.in_blank),
            np.where(going, letters, self.last),
            np.where(going, fresh.sum(axis=0), self.begun),
        )


def frames_of(log_probabilities: NDArray[np.floating]) -> Frames:
    """Frames from the logarithms of their probabilities, shape (frames, letters)."""
    highest = log_probabilities.max(axis=1, keepdims=True)
    return np.asarray(np.exp((log_probabilities - highest).astype(np.float64)))


def nothing(frames: Frames) -> Spelled:
    """One row in which nothing has been spelled yet."""
    silent = np.concatenate([[1.0], np.cumprod(frames[:, BLANK])])[:, np.newaxis]
    return Spelled(np.zeros_like(silent), silent, np.array([BLANK]), np.ones(1))


def log_likelihoods(frames: Frames, texts: Sequence[str]) -> NDArray[np.float64]:
    """Log-probability of each text, less that of the likeliest frames, shape (texts,).

    Raises:
        KeyError: a text has a character that is not in `ALPHABET`.
    """
    start = nothing(frames).rows([0] * len(texts))
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(start.then(frames, texts).ended))
