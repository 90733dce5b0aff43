"""What the ear itself tells: how strong the sound is in each band of frequencies.

The encoder was made for clean sentences and loses short words in noise. So the speller also looks
at the sound directly: power in triangular bands of equal width on the mel scale (Davis and
Mermelstein, IEEE ASSP 28, 1980; the scale as in O'Shaughnessy, Speech communication, 1987), as a
logarithm, in two views. One is against the loudest of the utterance, the other against the level
that the band has when it is quiet, which takes a steady noise away.
"""

from __future__ import annotations

import functools

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["BANDS", "FRAME", "VALUES", "Bands", "bands", "centres", "mel"]

BANDS = 40
"""From `LOWEST` to `HIGHEST`."""

LOWEST, HIGHEST = 60.0, 7_600.0
"""Hertz."""

HOP, WINDOW, SPECTRUM = 128, 400, 512
"""Samples: from one spectrum to the next, and in each; and what it is filled up to."""

TOGETHER = 3
"""Spectra that make one frame."""

FRAME = HOP * TOGETHER
"""Samples from one frame to the next; as far apart as the encoder's."""

VALUES = 2 * BANDS * TOGETHER
"""In each frame."""

FLOOR = 1e-5
"""Of the loudest; what is softer is silence."""

LOUD, QUIET = 0.95, 0.2
"""Which share of spectra is softer than the loudest, and than what counts as quiet."""

Bands = NDArray[np.float32]
"""Natural logarithms of power, shape (frames, values)."""


def bands(samples: Samples) -> Bands:
    """The frames of an utterance of at least `WINDOW` samples that are not all silence."""
    windows = np.lib.stride_tricks.sliding_window_view(samples, WINDOW)[::HOP]
    spectra = np.fft.rfft(windows * _window(), SPECTRUM)
    power = (spectra.real**2 + spectra.imag**2) @ _filters()
    loud = _of_rank(power.sum(axis=1), LOUD) / BANDS
    against_loudest = np.log(power / np.maximum(loud, np.finfo(np.float32).tiny) + FLOOR)
    above_quiet = against_loudest - _of_rank(against_loudest, QUIET)
    both = np.concatenate([against_loudest, above_quiet], axis=1).astype(np.float32)
    count = -(-len(both) // TOGETHER)
    filled = np.pad(both, ((0, count * TOGETHER - len(both)), (0, 0)), mode="edge")
    return filled.reshape(count, VALUES)


def _of_rank(values: NDArray[np.float32], share: float) -> NDArray[np.float32]:
    """The value of the row below which this share of the rows lies, for each column."""
    rank = int(share * (len(values) - 1))
    return np.asarray(np.partition(values, rank, axis=0)[rank])


def mel(frequency: float) -> float:
    """How high a frequency [Hz] sounds, on a scale on which 1,000 Hz are 1,000 mel."""
    return float(2_595 * np.log10(1 + frequency / 700))


def _edges() -> NDArray[np.float64]:
    """Where the bands begin, peak and end [Hz]: each from one of these to the next but one."""
    heights = np.linspace(mel(LOWEST), mel(HIGHEST), BANDS + 2)
    return np.asarray(700 * (10 ** (heights / 2_595) - 1))


def centres() -> NDArray[np.float64]:
    """Where each band peaks [Hz]."""
    return _edges()[1:-1]


@functools.cache
def _filters() -> NDArray[np.float32]:
    """How much of each frequency of a spectrum is in each band."""
    frequencies = np.fft.rfftfreq(SPECTRUM, 1 / SAMPLE_RATE)[:, np.newaxis]
    edges = _edges()
    low, peak, high = edges[:-2], edges[1:-1], edges[2:]
    rising = (frequencies - low) / (peak - low)
    falling = (high - frequencies) / (high - peak)
    return np.asarray(np.maximum(0.0, np.minimum(rising, falling)), np.float32)


@functools.cache
def _window() -> NDArray[np.float32]:
    return np.hanning(WINDOW).astype(np.float32)
