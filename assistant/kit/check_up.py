"""The check of microphone, loudspeaker, voice and noise, as it is spoken.

The order: what the place sounds like while nobody speaks, whether the microphone hears the
loudspeaker, whether the clock is right, and six phrases of the job. A phrase that must be heard and
was not is asked for once more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import islice

import numpy as np

from assistant.kit.clock import confirmed, say_time
from assistant.kit.expectation import measured
from assistant.kit.findings import Finding
from assistant.kit.microphone import check_speech_level, check_switched_on
from assistant.kit.noise import check_noise
from assistant.kit.phrases import SIX, Phrase, Read, check_must_be_heard, check_phrases
from assistant.kit.self_hearing import check_self_hearing
from assistant.language.answers import grammar
from assistant.language.english import english
from assistant.language.meaning import Command, Word
from assistant.language.questions import AskYesNo, Question
from assistant.speech import wav
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.ears import SAMPLE_RATE, Ears, Samples, Spoken
from assistant.speech.voice.voices import Voice

__all__ = ["CheckUp"]

BEGINNING = "This checks the equipment. It is no permission to work."
SILENCE = "Nobody speak, for five seconds."
LISTENED = 5.0
"""How long the place is listened to [s]."""

AFTERWARDS = 0.5
"""How much longer than its length a sound may take to come back through the microphone [s]."""

PATIENCE = 8.0
"""How long a phrase is waited for [s]."""


@dataclass(slots=True)
class CheckUp:
    """Microphone, loudspeaker, voice and noise, checked with the technician.

    Args:
        voice: says what is to be done.
        source: the microphone.
        ears: on the same microphone.
        play: plays a sound through the loudspeaker; None where nothing is played aloud.
        sound: what is played for the microphone to hear.
    """

    voice: Voice
    source: SoundSource
    ears: Ears
    play: Callable[[wav.Sound], None] | None
    sound: wav.Sound

    def run(self, now: datetime) -> Iterator[Finding]:
        """Check one thing after the other.

        Args:
            now: what the clock says.

        Raises:
            DeviceError: the microphone or the loudspeaker fails.
        """
        self.voice.say(BEGINNING)
        self.voice.say(SILENCE)
        noise = self._heard(LISTENED)
        yield check_switched_on(noise)
        if self.play is not None:
            yield self._check_loudspeaker(self.play)
        self.voice.say(f"The clock says {say_time(now)}. Is that right?")
        yield confirmed(self._yes_or_no())
        readings, spoken = [], []
        for phrase in SIX:
            self.voice.say(f"Say: {phrase.words}.")
            read, samples = self._read(phrase)
            readings.append(read)
            spoken += [samples] if samples is not None else []
        yield check_phrases(readings)
        for read in readings:
            if read.phrase.must_be_heard:
                yield self._check_must_be_heard(read)
        if spoken:
            yield check_speech_level(np.concatenate(spoken))
        yield check_noise(noise, spoken, measured())

    def _check_loudspeaker(self, play: Callable[[wav.Sound], None]) -> Finding:
        self.source.discard()
        play(self.sound)
        recorded = self._next(self.sound.seconds + AFTERWARDS)
        played = wav.resample(self.sound.samples, self.sound.rate, SAMPLE_RATE)
        return check_self_hearing(played, recorded)

    def _check_must_be_heard(self, first: Read) -> Finding:
        if first.right:
            return check_must_be_heard(first, None)
        self.voice.say(f"Once more, say: {first.phrase.words}.")
        again, _ = self._read(first.phrase)
        return check_must_be_heard(first, again)

    def _read(self, phrase: Phrase) -> tuple[Read, Samples | None]:
        meant = grammar(phrase.question, english()).parse(phrase.words)
        assert meant is not None, "a test says so"
        reply = self._answer(phrase.question)
        if reply is None:
            return Read(phrase, meant, None), None
        return Read(phrase, meant, reply.recognition.accepted()), reply.samples

    def _yes_or_no(self) -> bool | None:
        reply = self._answer(AskYesNo())
        match reply and reply.recognition.accepted():
            case Command(Word.YES):
                return True
            case Command(Word.NO):
                return False
        return None

    def _answer(self, question: Question) -> Spoken | None:
        reply = self.ears.listen(grammar(question, english()), PATIENCE)
        return reply if isinstance(reply, Spoken) else None

    def _heard(self, seconds: float) -> Samples:
        """What comes in from now on."""
        self.source.discard()
        return self._next(seconds)

    def _next(self, seconds: float) -> Samples:
        blocks = islice(self.source.blocks(), round(seconds * SAMPLE_RATE / BLOCK))
        return np.concatenate([np.zeros(0, np.float32), *blocks])
