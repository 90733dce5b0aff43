"""Whether the microphone hears what the loudspeaker plays."""

from __future__ import annotations

import numpy as np

from assistant.kit.findings import Finding, Fitness
from assistant.speech.ears import Samples

__all__ = ["HEARD", "check_self_hearing", "likeness"]

HEARD = 12.0
"""Likeness from which on a sound is in a recording. That of noise alone stays below: the largest of
100,000 normal deviates is about 4.4 of their standard deviations, and hammer blows came to 7."""


def likeness(played: Samples, recorded: Samples) -> float:
    """How clearly a sound is in a recording: the peak of their cross-correlation.

    Args:
        played: what was played, at the rate of the recording.
        recorded: what the microphone gave from a little before until a little after.

    Returns:
        The peak's height, in standard deviations of the correlation over all delays.
    """
    if not len(played) or not len(recorded) or not np.any(recorded) or not np.any(played):
        return 0.0
    size = 1 << (len(played) + len(recorded) - 2).bit_length()
    spectrum = np.fft.rfft(recorded, size) * np.conj(np.fft.rfft(played, size))
    correlation = np.fft.irfft(spectrum, size)[: len(recorded)]
    spread = float(np.std(correlation))
    return float(np.max(np.abs(correlation))) / spread if spread else 0.0


def check_self_hearing(played: Samples, recorded: Samples) -> Finding:
    """Judge whether the loudspeaker is heard.

    That it is not may be right (earphones), so it is only doubtful; whoever follows what is then
    spoken shows that it is heard.
    """
    if likeness(played, recorded) >= HEARD:
        says = "The microphone hears the loudspeaker."
        return Finding("the loudspeaker", Fitness.FIT, says)
    says = (
        "The microphone does not hear the loudspeaker. That is right with earphones; without, "
        "turn it up."
    )
    return Finding("the loudspeaker", Fitness.DOUBTFUL, says)
