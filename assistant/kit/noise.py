"""The noise of the place: how loud it is, how far speech stands over it, and what that leaves."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from assistant.kit.expectation import NO_NOISE, Measured, expected, lowest_ratio
from assistant.kit.findings import Finding, Fitness
from assistant.kit.microphone import DEAD
from assistant.kit.sound_levels import decibels, frames, powers, rms
from assistant.speech.ears import Samples

__all__ = ["check_noise", "foretell", "over_noise", "was_measured"]

GOOD, FAIR = 0.9, 0.7
"""Share understood at once from which the place is fit, and from which it is doubtful (ours; common
practice, no source)."""

GAPS = 0.1
"""Share of the time without any sound up to which the noise was measured all the same: a device may
take half a second of five to open (ours; common practice, no source)."""

SUBJECT = "the noise"


def check_noise(noise: Samples, spoken: Sequence[Samples], cells: Sequence[Measured]) -> Finding:
    """Judge the noise of the place by how far speech stands over it.

    Args:
        noise: what came in while nobody spoke.
        spoken: what was heard of each phrase; nothing is foretold without any.
        cells: what was measured, at least one with noise.
    """
    if not was_measured(noise):
        says = (
            "The noise could not be measured: while nobody speaks the microphone gives nothing. "
            "Hold it open and check again, or at least read the phrases while the machines run."
        )
        return Finding(SUBJECT, Fitness.DOUBTFUL, says)
    if not spoken:
        level = abs(decibels(rms(noise)))
        says = (
            f"The noise is at minus {level:.0f} decibels, and I heard nobody speak over it. "
            "Check again, closer to the microphone."
        )
        return Finding(SUBJECT, Fitness.DOUBTFUL, says)
    return foretell(float(np.median([over_noise(one, noise) for one in spoken])), cells)


def was_measured(noise: Samples) -> bool:
    """Whether the microphone was open: every place has a noise, but some headsets shut it out.

    Args:
        noise: what came in while nobody spoke.
    """
    # Each frame by itself: beside the mean of a sound that is shut off at times, silence is loud.
    levels = [decibels(float(level)) for level in frames(noise).std(axis=1)]
    return bool(levels) and sum(level < DEAD for level in levels) <= GAPS * len(levels)


def over_noise(spoken: Samples, noise: Samples) -> float:
    """How far active speech stands over the noise of the place [dB].

    What is recorded while somebody speaks is both, so only frames of 20 ms with at least twice the
    power of the noise count as speech, and the noise is taken off them. Where there is none the
    ratio is given as -20 dB.

    Args:
        spoken: what came in while somebody spoke.
        noise: what came in while nobody did, and `was_measured`.
    """
    power, alone = powers(spoken), rms(noise) ** 2
    active = power[power > np.maximum(power.max() / 1000, 2 * alone)]
    over = float(active.mean()) / alone - 1.0 if len(active) else 0.0
    return float(10.0 * np.log10(max(over, 0.01)))


def foretell(ratio: float, cells: Sequence[Measured]) -> Finding:
    """Judge how many replies will be understood at once.

    Below the lowest ratio that was measured nobody knows but that they are fewer than there, so no
    such place is fit.

    Args:
        ratio: active speech over noise [dB].
        cells: what was measured, at least one with noise.
    """
    worst, best = expected(ratio, cells)
    few, many = round(10 * worst), round(10 * best)
    stands = _stands(ratio)
    if ratio < lowest_ratio(cells):
        return _too_few(f"{stands} Of ten replies I may understand fewer than {few or 1} at once.")
    of_ten = f"{few}" if few == many else f"{few} to {many}"
    says = f"{stands} Of ten replies I shall understand {of_ten} at once."
    if worst >= GOOD:
        return Finding(SUBJECT, Fitness.FIT, says)
    if worst >= FAIR:
        says += " I shall ask again often. Bring the microphone closer to the mouth."
        return Finding(SUBJECT, Fitness.DOUBTFUL, says)
    return _too_few(says)


def _stands(ratio: float) -> str:
    over = round(min(ratio, NO_NOISE))
    if over < 1:
        return "Your voice does not stand out from the noise."
    return f"Your voice stands {over} decibels over the noise."


def _too_few(says: str) -> Finding:
    says += " Too few: use a headset, wait for quiet, or work on paper."
    return Finding(SUBJECT, Fitness.UNFIT, says)
