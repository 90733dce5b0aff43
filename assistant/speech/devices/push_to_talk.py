"""Push-to-talk: what the microphone hears counts only while a switch says so."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

import numpy as np

from assistant.speech.devices.microphone import SoundSource
from assistant.speech.ears import Samples

__all__ = ["PushToTalk", "TalkSwitch"]

TAIL = 5
"""Blocks of 30 ms that still count after the switch went off: a foot is quicker than a last word.
Common practice, no source."""


class TalkSwitch(Protocol):
    """Tells when somebody speaks to the program: a pedal, a key."""

    def is_on(self) -> bool:
        """Whether what is said now counts; asked at every block, and answered at once.

        Raises:
            DeviceError: the switch is gone.
        """

    def rest(self) -> None:
        """Listening begins anew: what was switched on for one reply only is off again."""


class PushToTalk:
    """A microphone that gives silence while its switch is off.

    Time goes on in that silence, so that the program still asks again when nobody answers.

    Args:
        microphone: an open microphone.
        switch: tells when what it hears counts.
    """

    def __init__(self, microphone: SoundSource, switch: TalkSwitch) -> None:
        self._microphone = microphone
        self._switch = switch

    @property
    def overflows(self) -> int:
        """How often sound was lost because nobody took it in time."""
        return self._microphone.overflows

    def discard(self) -> None:
        """Forget what was heard up to now."""
        self._switch.rest()
        self._microphone.discard()

    def blocks(self) -> Iterator[Samples]:
        """Blocks of sound, or of silence.

        Raises:
            DeviceError: the microphone or the switch fails.
        """
        left = 0
        for block in self._microphone.blocks():
            left = TAIL if self._switch.is_on() else max(0, left - 1)
            yield block if left else np.zeros_like(block)
