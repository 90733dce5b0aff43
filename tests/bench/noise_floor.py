"""A noise floor, the detector that the product had before: speech is what stands over the noise.

Theory of operation: each block is measured in five octaves from 200 to 6,400 Hz; below lie hum and
rumble. Each octave has its own floor: the lowest level, averaged over five blocks, of the last two
seconds. Speech dips to the floor within that time, so the floor follows a machine that starts and
is not drawn up by talk. A block is as loud as its two octaves that stand highest over their floors
(a vowel or an s fills two).
"""

from __future__ import annotations

from collections import deque

import numpy as np
from numpy.typing import NDArray

from assistant.speech.devices.endpoint import OFFSET, ONSET
from assistant.speech.devices.level import BLOCK
from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["NoiseFloor"]

BEGINS, GOES_ON = 7.5, 6.0
"""How far over the floor speech begins, and still goes on [dB]: chosen on white and pink noise, of
which one block in 1,000 reached about the first."""

QUIETEST = -80.0
"""No floor is taken to be lower, so that digital silence has one too [dB re a full-scale sine]."""

_AVERAGED = 5
_FLOOR_BLOCKS = 2 * SAMPLE_RATE // BLOCK

_WINDOW = np.hanning(BLOCK).astype(np.float32)
_FULL_SCALE = float(np.sum(_WINDOW) ** 2 / 4)
_EDGES = np.searchsorted(np.fft.rfftfreq(BLOCK, 1 / SAMPLE_RATE), 200.0 * 2.0 ** np.arange(6))


def _levels(block: Samples) -> NDArray[np.float64]:
    """Level of a block in each of the five octaves [dB re a full-scale sine], shape (5,)."""
    power = np.abs(np.fft.rfft(np.nan_to_num(block) * _WINDOW)) ** 2 / _FULL_SCALE
    bands = np.add.reduceat(power[: _EDGES[-1]], _EDGES[:-1])
    return np.asarray(10.0 * np.log10(np.maximum(bands, 1e-12)), np.float64)


class NoiseFloor:
    """The lowest recent level in each octave, as a detector for the endpointer."""

    def __init__(self) -> None:
        self._recent: deque[NDArray[np.float64]] = deque(maxlen=_AVERAGED)
        self._averages: deque[NDArray[np.float64]] = deque(maxlen=_FLOOR_BLOCKS)

    def probability(self, block: Samples) -> float:
        """How far the next block stands over the floor, on the endpointer's scale."""
        over = self._over(block)
        return ONSET + (over - BEGINS) * (ONSET - OFFSET) / (BEGINS - GOES_ON)

    def _over(self, block: Samples) -> float:
        """Take in the next block; answer how far it stands over the floor [dB]."""
        measured = _levels(block)
        self._recent.append(measured)
        average = np.mean(self._recent, axis=0)
        if len(self._recent) == _AVERAGED:  # an average of fewer blocks may lie too low
            self._averages.append(average)
        floor = np.maximum(np.min(self._averages or [average], axis=0), QUIETEST)
        return float(np.mean(np.sort(measured - floor)[-2:]))
