"""Ears on a microphone: end of speech, and recognition in its pauses.

What was said is recognised as soon as it pauses, so that the answer is ready when the pause is long
enough to be the end; the answer also says how long that is (`language.completeness`). If speech
resumes, the answer is dropped; "hold" counts all the same where the whole then says nothing ("hold
… wait a moment"). While the recogniser is at work the microphone's queue keeps what
comes in, and it is read afterwards: nothing is lost, and the endpointer counts samples, not time.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.language.completeness import Completeness, completeness
from assistant.language.grammar import Grammar
from assistant.language.meaning import Command, Word
from assistant.language.recognition import Recognition
from assistant.speech.devices.endpoint import (
    Detector,
    Endpointer,
    NoInput,
    SpeechEnded,
    SpeechPaused,
    SpeechResumed,
    Timeouts,
)
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.ears import SAMPLE_RATE, Recogniser, Reply, Samples, Silence, Spoken
from assistant.speech.errors import DeviceError

__all__ = ["TOO_LONG", "MicrophoneEars"]

TOO_LONG = "[speech without a pause]"
"""Stands in place of the words of what was too long to be a reply."""


class MicrophoneEars:
    """Waits for one utterance and lets the recogniser read it.

    What was said before `listen` (the program's own prompt among it) is discarded. The detector
    goes on from one utterance to the next.

    Args:
        microphone: an open microphone.
        detector: tells speech from noise.
        recogniser: reads the utterances.
    """

    def __init__(
        self,
        microphone: SoundSource,
        detector: Detector,
        recogniser: Recogniser,
    ) -> None:
        self._microphone = microphone
        self._detector = detector
        self._recogniser = recogniser

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """Wait for one reply, at most `patience` seconds for its beginning.

        Raises:
            DeviceError: the microphone fails.
        """
        self._microphone.discard()
        before = self._microphone.overflows
        endpointer = Endpointer(self._detector, Timeouts(timeout=patience))
        answer: Spoken | None = None  # to what was said until the pause that lasts
        hold: Spoken | None = None  # before more was said
        for block in self._microphone.blocks():
            match endpointer.feed(block):
                case SpeechPaused() as pause:
                    answer = self._heard_at(pause, grammar)
                    if _is_whole(answer, grammar):
                        endpointer.complete()
                case SpeechResumed():
                    hold = answer if _is_hold(answer) else hold
                    answer = None
                case SpeechEnded(samples, forced):
                    if forced and not _is_hold(answer):
                        answer = self._too_long(samples)
                    heard = answer or self._heard(samples, grammar)
                    if hold is not None and heard.recognition.accepted() is None:
                        heard = hold
                    return replace(heard, lost=self._microphone.overflows - before)
                case NoInput():
                    return Silence()
        raise DeviceError("the microphone ended: plug it in again and continue the job")

    def _heard(self, samples: Samples, grammar: Grammar) -> Spoken:
        return Spoken(self._recogniser.recognise(samples, grammar), samples)

    def _too_long(self, samples: Samples) -> Spoken:
        """Not understood: who speaks without a pause until `maxspeechtimeout` gives no reply.

        In an hour of babble all five sounds that were taken for a reply had been cut off there.
        """
        seconds = len(samples) / SAMPLE_RATE
        return Spoken(Recognition(TOO_LONG, None, 0.0, seconds, self._recogniser.name), samples)

    def _heard_at(self, pause: SpeechPaused, grammar: Grammar) -> Spoken:
        """The answer so far; where it makes no sense, "hold" if that came last: "one and … hold".

        No other word may stand alone: "yes … no" stays not understood.
        """
        answer = self._heard(pause.samples, grammar)
        if answer.recognition.accepted() is not None or len(pause.last) == len(pause.samples):
            return answer
        last = self._heard(pause.last, grammar)
        return last if _is_hold(last) else answer


def _is_hold(answer: Spoken | None) -> bool:
    return answer is not None and answer.recognition.accepted() == Command(Word.HOLD)


def _is_whole(answer: Spoken, grammar: Grammar) -> bool:
    """Whether nothing more is to be expected after this answer."""
    heard = answer.recognition
    whole = completeness(grammar, heard.text) is Completeness.WHOLE
    return whole and heard.accepted() is not None
