"""How loud speech is, and noise mixed with it at a ratio."""

from __future__ import annotations

import numpy as np

from assistant.kit.sound_levels import active_level
from assistant.speech.ears import Samples

__all__ = ["active_level", "mixed", "of_unit_level"]


def of_unit_level(samples: Samples) -> Samples:
    """The samples at an RMS of one."""
    return np.asarray(samples / np.sqrt(np.mean(np.square(samples, dtype=np.float64))), np.float32)


def mixed(speech: Samples, noise: Samples, ratio: float) -> Samples:
    """Speech with noise; scaled down where the sum would not fit between -1 and 1.

    Args:
        speech: what is said.
        noise: as long as the speech, at an RMS of one.
        ratio: active speech over noise [dB].
    """
    level = active_level(speech) * 10 ** (-ratio / 20)
    both = speech + np.float32(level) * noise
    return np.asarray(both / max(1.0, float(np.abs(both).max())), np.float32)
