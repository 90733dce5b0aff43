"""How likely each sentence is to be "heard" in sound that is no speech.

A model that writes sentences prefers some sentences to others whatever it hears, and short ones
above all: pure noise is often taken for "no". The same decoder, run on encoded silence and
noises, tells by how much. That is the prior to be weighed against what it makes of real audio.

The noises are made here, always the same, each a second long: digital silence, noise of three
colours and some levels, and the hum and clicking of a gear train. The sentence's probability under
non-speech is the mean over them. It depends on nothing but the model and the sentence, so it is
computed for a beginning of a sentence when a search first gets there, and kept.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["Beginning", "NonSpeech", "PriorStore", "Scorer", "noises"]

Beginning = tuple[int, ...]
"""The tokens of a sentence so far, without the start token."""

LogLikelihoods = NDArray[np.float32]
"""Log-probability of one token under each noise, shape (noises,)."""

Scorer = Callable[[Sequence[Beginning]], NDArray[np.float32]]
"""From beginnings of one length to the log-probabilities of what follows each under each noise,
shape (noises, beginnings, pieces)."""


def _coloured(length: int, exponent: float, level: float, seed: int) -> Samples:
    """Noise whose power falls with the frequency to this exponent, at this RMS level."""
    white = np.random.default_rng(seed).standard_normal(length)
    spectrum = np.fft.rfft(white)
    frequency = np.maximum(np.fft.rfftfreq(length, 1 / SAMPLE_RATE), 20.0)
    shaped = np.fft.irfft(spectrum * frequency ** (-exponent / 2), length)
    return np.asarray(shaped / np.sqrt(np.mean(shaped**2)) * level, np.float32)


def _gear_train(length: int) -> Samples:
    """Hum of 100 Hz with overtones and a click each tenth of a second."""
    time = np.arange(length) / SAMPLE_RATE
    hum = sum(np.sin(2 * np.pi * 100 * k * time) / k for k in range(1, 6))
    since_click = time % 0.1
    clicks = np.exp(-since_click * 400) * np.sin(2 * np.pi * 2_500 * since_click)
    return np.asarray(0.02 * hum + 0.1 * clicks, np.float32)


def noises() -> tuple[Samples, ...]:
    """The non-speech sounds that make the prior, each one second."""
    length = SAMPLE_RATE
    return (
        np.zeros(length, np.float32),
        _coloured(length, exponent=0.0, level=0.01, seed=1),
        _coloured(length, exponent=1.0, level=0.05, seed=2),
        _coloured(length, exponent=2.0, level=0.1, seed=3),
        _gear_train(length),
    )


class PriorStore(Protocol):
    """Keeps what has been computed, for this run or longer."""

    def get(self, beginning: Beginning) -> Mapping[int, LogLikelihoods] | None:
        """What is known about the tokens after this beginning."""

    def put(self, known: Mapping[Beginning, Mapping[int, LogLikelihoods]]) -> None:
        """Keep what is known about the tokens after these beginnings."""


class NonSpeech:
    """The prior of one model.

    Args:
        scorer: the model's decoder on the encoded noises.
        store: where to keep what has been computed.
    """

    def __init__(self, scorer: Scorer, store: PriorStore) -> None:
        self._scorer = scorer
        self._store = store

    def following(
        self, beginnings: Sequence[Beginning], wanted: Sequence[Sequence[int]]
    ) -> list[Mapping[int, LogLikelihoods]]:
        """Log-probability under each noise of the wanted tokens after each beginning.

        Args:
            beginnings: beginnings of sentences, all of one length.
            wanted: for each beginning the tokens asked for.
        """
        found = [self._store.get(beginning) or {} for beginning in beginnings]
        lacking = [row for row, known in enumerate(found) if not known.keys() >= set(wanted[row])]
        if lacking:
            scores = self._scorer([beginnings[row] for row in lacking])
            for at, row in enumerate(lacking):
                fresh = {token: scores[:, at, token].copy() for token in wanted[row]}
                found[row] = {**found[row], **fresh}
            self._store.put({beginnings[row]: found[row] for row in lacking})
        return found
