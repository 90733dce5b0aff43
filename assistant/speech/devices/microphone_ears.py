"""Ears on a microphone: end of speech, then recognition."""

from __future__ import annotations

from dataclasses import replace

from assistant.language.grammar import Grammar
from assistant.speech.devices.endpoint import (
    Endpointer,
    NoInput,
    NoiseFloor,
    SpeechEnded,
    Timeouts,
)
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.ears import Recogniser, Reply, Silence, Spoken
from assistant.speech.errors import DeviceError

__all__ = ["MicrophoneEars"]


class MicrophoneEars:
    """Waits for one utterance and lets the recogniser read it.

    What was said before `listen` (the program's own prompt among it) is discarded. The noise floor
    is carried from one utterance to the next.

    Args:
        microphone: an open microphone.
        recogniser: reads the utterances.
        timeouts: of the end of speech; `timeout` is replaced by the patience of each `listen`.
    """

    def __init__(
        self, microphone: SoundSource, recogniser: Recogniser, timeouts: Timeouts | None = None
    ) -> None:
        self._microphone = microphone
        self._recogniser = recogniser
        self._timeouts = timeouts or Timeouts()
        self._floor = NoiseFloor()

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """Wait for one reply, at most `patience` seconds for its beginning.

        Raises:
            DeviceError: the microphone fails.
        """
        self._microphone.discard()
        endpointer = Endpointer(replace(self._timeouts, timeout=patience), self._floor)
        for block in self._microphone.blocks():
            match endpointer.feed(block):
                case SpeechEnded(samples):
                    return Spoken(self._recogniser.recognise(samples, grammar), samples)
                case NoInput():
                    return Silence()
        raise DeviceError("the microphone ended: plug it in again and continue the job")
