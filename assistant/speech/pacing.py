"""Ticks that give the pace at which a shaft is to be turned."""

from __future__ import annotations

import numpy as np

from assistant.speech.ears import SAMPLE_RATE
from assistant.speech.wav import Sound

__all__ = ["TICKS", "ticks"]

TICKS = 8
"""How many are given: enough to fall in with, and short. Only "hold" is heard meanwhile."""

_PITCH = 1200.0
"""Of a tick [Hz]; common practice, no source: above the noise of motors and pumps."""

_SECONDS = 0.03
_LEVEL = 0.5


def ticks(per_minute: float, count: int = TICKS) -> Sound:
    """A sound of even ticks.

    Args:
        per_minute: how many a minute, more than 0.
        count: how many in all.

    >>> round(ticks(120).seconds, 2)
    4.0
    """
    if not per_minute > 0:
        raise ValueError(f"{per_minute} ticks a minute give no pace: give more than 0.")
    spacing = round(SAMPLE_RATE * 60 / per_minute)
    length = min(round(SAMPLE_RATE * _SECONDS), spacing)
    time = np.arange(length) / SAMPLE_RATE
    tick = _LEVEL * np.sin(2 * np.pi * _PITCH * time) * np.hanning(length)
    samples = np.zeros(spacing * count, dtype=np.float32)
    for start in range(0, spacing * count, spacing):
        samples[start : start + length] = tick
    return Sound(samples, SAMPLE_RATE)
