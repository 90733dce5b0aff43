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
        lengths = np.array([len(text) for text in texts], np.int64)
        most = int(lengths.max(initial=0))
        if most == 0:
            return self
        letters = np.full((most + 1, len(texts)), BLANK, np.int64)
        letters[0] = self.last
        for row, text in enumerate(texts):
            letters[1 : len(text) + 1, row] = [_NUMBERS[letter] for letter in text]
        says = frames[:, letters[1:]]
        apart = np.where(letters[1:] == letters[:-1], 0.0, 1.0)
        in_letter, in_blank = self._along(frames[:, BLANK], says, apart)
        rows = np.arange(len(texts))
        last, before = (lengths, rows), (lengths - 1, rows)
        reached = in_blank[:-1, *before] + apart[before] * in_letter[:-1, *before]
        begun = (reached * says[:, *before]).sum(axis=0)
        return Spelled(
            in_letter[:, *last],
            in_blank[:, *last],
            letters[last],
            np.where(lengths > 0, begun, self.begun),
        )

    def _along(self, silent: _Rows, says: _Rows, apart: _Rows) -> tuple[_Rows, _Rows]:
        """`in_letter` and `in_blank` after each number of letters of each row.

        Frame by frame, all letters of all rows at once: letter by letter goes through the frames
        once for each.

        Args:
            silent: probability of blank, shape (frames,).
            says: probability of each letter, shape (frames, letters, rows).
            apart: 0 where a letter is the one before it again, which needs a blank between, else 1,
                shape (letters, rows).

        Returns:
            Both, of shape (frames + 1, letters + 1, rows).
        """
        count, letters, rows = says.shape
        in_letter = np.zeros((count + 1, letters + 1, rows))
        in_blank = np.zeros_like(in_letter)
        in_letter[:, 0], in_blank[:, 0] = self.in_letter, self.in_blank
        for frame in range(count):
            letter, blank = in_letter[frame], in_blank[frame]
            fresh = blank[:-1] + apart * letter[:-1]
            np.multiply(letter[1:] + fresh, says[frame], out=in_letter[frame + 1, 1:])
            np.multiply(letter[1:] + blank[1:], silent[frame], out=in_blank[frame + 1, 1:])
        return in_letter, in_blank


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
