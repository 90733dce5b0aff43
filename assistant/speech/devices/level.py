"""How loud a block of sound is."""

from __future__ import annotations

import numpy as np

from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["BLOCK", "level"]

BLOCK = SAMPLE_RATE * 30 // 1000
"""Samples in a block of 30 ms."""

_WINDOW = np.hanning(BLOCK).astype(np.float32)
_FULL_SCALE = float(np.sum(_WINDOW) ** 2 / 4) * 1.5  # a sine fills three bins of a Hann window
_FROM, _TO = np.searchsorted(np.fft.rfftfreq(BLOCK, 1 / SAMPLE_RATE), (200.0, 6_400.0))


def level(block: Samples) -> float:
    """Level from 200 to 6,400 Hz, above hum and rumble [dB re a full-scale sine]; -120 at least."""
    power = np.abs(np.fft.rfft(np.nan_to_num(block) * _WINDOW))[_FROM:_TO] ** 2
    return float(10.0 * np.log10(max(power.sum() / _FULL_SCALE, 1e-12)))
