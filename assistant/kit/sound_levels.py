"""How loud speech and noise are in a recording."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["active_level", "clipped_share", "decibels", "over_noise", "rms"]

FULL = 0.999
"""From this value on a sample stands at the end of its range."""

SILENT = 1e-6
"""No level is taken to be lower: -120 dB."""


def rms(samples: Samples) -> float:
    """Root mean square, without a constant part that a cheap input may add."""
    return max(float(np.std(samples.astype(np.float64))), SILENT) if len(samples) else SILENT


def active_level(samples: Samples) -> float:
    """RMS over the frames of 20 ms that are within 30 dB of the loudest: while somebody speaks."""
    power = _powers(samples)
    return max(float(np.sqrt(power[power > power.max() / 1000].mean())), SILENT)


def _powers(samples: Samples) -> NDArray[np.float64]:
    """Mean square of each frame of 20 ms, at least one."""
    frame = SAMPLE_RATE // 50
    whole = samples[: len(samples) // frame * frame].astype(np.float64)
    if not len(whole):
        return np.full(1, SILENT**2)
    powers = ((whole - whole.mean()).reshape(-1, frame) ** 2).mean(axis=1)
    return np.asarray(np.maximum(powers, SILENT**2), np.float64)


def decibels(level: float) -> float:
    """A level in dB; full scale is 0 dB for a square wave, -3 dB for a sine.

    >>> round(decibels(0.1), 1)
    -20.0
    """
    return float(20.0 * np.log10(max(level, SILENT)))


def over_noise(spoken: Samples, noise: Samples) -> float:
    """How far active speech stands over the noise of the place [dB].

    What is recorded while somebody speaks is both, so only frames of 20 ms with at least twice the
    power of the noise count as speech, and the noise is taken off them. Where there is none the
    ratio is given as -20 dB.
    """
    power, alone = _powers(spoken), rms(noise) ** 2
    active = power[power > np.maximum(power.max() / 1000, 2 * alone)]
    over = float(active.mean()) / alone - 1.0 if len(active) else 0.0
    return float(10.0 * np.log10(max(over, 0.01)))


def clipped_share(samples: Samples) -> float:
    """The share of samples at the ends of their range, 0 to 1."""
    return float(np.mean(np.abs(samples) >= FULL)) if len(samples) else 0.0
