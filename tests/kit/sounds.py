"""Sounds of known levels."""

from __future__ import annotations

import numpy as np

from assistant.speech.ears import SAMPLE_RATE, Samples


def noise(seconds: float, level: float, seed: int = 1) -> Samples:
    deviates = np.random.default_rng(seed).standard_normal(round(seconds * SAMPLE_RATE))
    return np.asarray(level * deviates, np.float32)


def tone(seconds: float, level: float) -> Samples:
    """A sine of this RMS."""
    at = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    return np.asarray(level * np.sqrt(2.0) * np.sin(2 * np.pi * 440.0 * at), np.float32)


def spoken_like() -> Samples:
    """Four syllables with silence around them."""
    silence, syllable = np.zeros(8000, np.float32), tone(0.25, 0.1)
    return np.concatenate([silence, syllable, syllable, silence, syllable, syllable, silence])
