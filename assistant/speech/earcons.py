"""Earcons: short tones that say what needs no words.

They tell that the program listens, that it has understood, and that the job is on hold, before a
word is spoken and where none is. (The name is that of Blattner, Sumikawa and Greenberg, "Earcons
and icons", Human-Computer Interaction 4, 1989.) They differ in number of notes and in direction,
and all notes lie below 1 kHz: noise takes the hearing above that first (29 CFR 1910.95(g)(10) looks
for its loss at 2, 3 and 4 kHz). That they are told apart is common practice, no source.
"""

from __future__ import annotations

import enum
import functools

import numpy as np

from assistant.speech.ears import SAMPLE_RATE
from assistant.speech.wav import Sound

__all__ = ["Earcon", "sound_of"]


class Earcon(enum.StrEnum):
    """What a tone says."""

    LISTENING = "listening"
    HEARD = "heard"
    HELD = "held"


_NOTES: dict[Earcon, tuple[float, ...]] = {
    Earcon.LISTENING: (523.0, 784.0),  # upwards, like a question
    Earcon.HEARD: (784.0,),
    Earcon.HELD: (523.0, 392.0, 262.0),  # downwards, to rest
}
"""The notes of each [Hz], one after the other."""

_SECONDS = 0.06
_FADE = 0.01
_LEVEL = 0.25


@functools.cache
def sound_of(earcon: Earcon) -> Sound:
    """The tone.

    >>> [round(sound_of(one).seconds, 2) for one in Earcon]
    [0.12, 0.06, 0.18]
    """
    return Sound(np.concatenate([_note(pitch) for pitch in _NOTES[earcon]]), SAMPLE_RATE)


def _note(pitch: float) -> np.ndarray[tuple[int], np.dtype[np.float32]]:
    """A sine that begins and ends without a click."""
    time = np.arange(round(_SECONDS * SAMPLE_RATE)) / SAMPLE_RATE
    edge = np.minimum(time, time[::-1]) / _FADE
    return (_LEVEL * np.clip(edge, 0.0, 1.0) * np.sin(2 * np.pi * pitch * time)).astype(np.float32)
