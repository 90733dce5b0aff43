"""How loud a recording is."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["active_level", "clipped_share", "decibels", "frames", "powers", "rms"]

FULL = 0.999
"""From this value on a sample stands at the end of its range."""

SILENT = 1e-6
"""No level is taken to be lower: -120 dB."""


def rms(samples: Samples) -> float:
    """Root mean square, without a constant part that a cheap input may add."""
    return max(float(np.std(samples.astype(np.float64))), SILENT) if len(samples) else SILENT


def active_level(samples: Samples) -> float:
    """RMS over the frames of 20 ms that are within 30 dB of the loudest: while somebody speaks."""
    power = powers(samples)
    return max(float(np.sqrt(power[power > power.max() / 1000].mean())), SILENT)


def frames(samples: Samples) -> NDArray[np.float64]:
    """The whole frames of 20 ms, one a row; none in a shorter sound."""
    frame = SAMPLE_RATE // 50
    return samples[: len(samples) // frame * frame].astype(np.float64).reshape(-1, frame)


def powers(samples: Samples) -> NDArray[np.float64]:
    """Mean square of each frame of 20 ms, at least one."""
    whole = frames(samples)
    if not len(whole):
        return np.full(1, SILENT**2)
    return np.asarray(np.maximum(((whole - whole.mean()) ** 2).mean(axis=1), SILENT**2), np.float64)


def decibels(level: float) -> float:
    """A level in dB; full scale is 0 dB for a square wave, -3 dB for a sine.

    >>> round(decibels(0.1), 1)
    -20.0
    """
    return float(20.0 * np.log10(max(level, SILENT)))


def clipped_share(samples: Samples) -> float:
    """The share of samples at the ends of their range, 0 to 1."""
    return float(np.mean(np.abs(samples) >= FULL)) if len(samples) else 0.0
