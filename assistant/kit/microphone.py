"""Whether the microphone gives sound, neither too quiet nor too loud."""

from __future__ import annotations

from assistant.kit.findings import Finding, Fitness
from assistant.kit.sound_levels import active_level, clipped_share, decibels, rms
from assistant.speech.ears import Samples

__all__ = ["DEAD", "check_speech_level", "check_switched_on"]

DEAD = -90.0
"""A quieter input is switched off or muted: 16-bit samples have steps of -90 dB."""

QUIET = -45.0
"""Quieter speech is near the noise of a cheap input."""

CLIPPED = 0.001
"""A larger share of samples at full scale distorts what is said."""


def check_switched_on(noise: Samples) -> Finding:
    """Judge what came in while nobody spoke.

    Nothing at all is only doubtful: some headsets shut themselves off until somebody speaks.
    """
    if decibels(rms(noise)) < DEAD:
        says = "The microphone gives no sound while nobody speaks. Is it switched on?"
        return Finding("the microphone", Fitness.DOUBTFUL, says)
    return Finding("the microphone", Fitness.FIT, "The microphone works.")


def check_speech_level(spoken: Samples) -> Finding:
    """Judge how loud somebody came in who spoke."""
    if clipped_share(spoken) > CLIPPED:
        says = "Your voice is too loud for the microphone. Turn its input down, or move it away."
        return Finding("the level", Fitness.DOUBTFUL, says)
    if decibels(active_level(spoken)) < QUIET:
        says = "Your voice is very quiet. Turn the microphone's input up, or bring it closer."
        return Finding("the level", Fitness.DOUBTFUL, says)
    return Finding("the level", Fitness.FIT, "The level of your voice is good.")
