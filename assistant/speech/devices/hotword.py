"""A word that is heard over what is played, and whether a reply begins over its end.

Of VoiceXML's two kinds of barge-in (2.0, W3C 2004, section 4.1.5) this is *hotword*: only what the
grammar holds stops the sound. The program's own voice is taken out of what the microphone hears
(`own_voice`) before anything is weighed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from assistant.language.grammar import Grammar
from assistant.speech.devices.endpoint import (
    ONSET,
    Detector,
    Endpointer,
    SpeechEnded,
    SpeechPaused,
    Timeouts,
)
from assistant.speech.devices.level import BLOCK, level
from assistant.speech.devices.own_voice import LATEST, OwnVoice, Rest
from assistant.speech.ears import SAMPLE_RATE, Recogniser, Samples, Spoken

__all__ = ["LEAST_CONFIDENCE", "Hotword"]

_TIMEOUTS = Timeouts(
    timeout=3600.0,  # a prompt is shorter
    completetimeout=0.3,
    incompletetimeout=0.3,
    maxspeechtimeout=3.0,
)
"""A word that cuts off is short, and what is longer is none."""

_OF_A_REPLY = Timeouts(timeout=_TIMEOUTS.timeout)
"""A reply may be long and have pauses, as where it is listened for."""

LEAST_CONFIDENCE = 0.95
"""More than a reply needs: what is left of the own voice in a hard room was once believed with 0.94
(of 133 prompts)."""

_AFTER, _GOES_ON = 8, 4
"""Of so many blocks after the own voice so many hold speech where a reply goes on. What is left of
the own voice ends with it, so that no prompt is taken for a reply."""

_LOWERED = 3.0
"""By how much the own voice was lowered before the reply, at least [dB]. Else it may have been
mistaken how it comes back, and what is left of it go on for longer."""

_LOUDER = 3.0
"""By how much, where that is not so, as many blocks are louder than anything before the reply or
the word [dB]: no own voice is left that loud."""

_LEAST_BEFORE = 30
"""Blocks before them at least, with which their loudness is compared."""

_LONGEST_AFTER = 24
"""Blocks (0.7 s) for which is listened on at most, also where a word has not ended: after a short
prompt it may be mistaken how the own voice comes back, and its end be looked for too late."""

_LONGEST_WORD = 50
"""Blocks (1.5 s), with the quiet before it, after which what goes on is no word that cuts off."""

_MOST_BEHIND = 67
"""Blocks (2 s) that may wait to be heard when the sound is over."""

_MOST_EARLY = 100
"""Blocks (3 s): what goes on for longer before the sound is over answers something else, or is the
talk of others; whoever listens next would take its length for a reply's."""


class Hotword:
    """Listens for a word while one sound is played, and whether a reply begins over its end.

    Args:
        played: the sound, at `SAMPLE_RATE`.
        detector: tells speech from noise; it may go on from one sound to the next.
        recogniser: reads what was said.
        grammar: the words.
    """

    def __init__(
        self, played: Samples, detector: Detector, recogniser: Recogniser, grammar: Grammar
    ) -> None:
        self._own_voice = OwnVoice(played)
        self._lasting = len(played)  # samples
        self._detector = detector
        self._recogniser = recogniser
        self._grammar = grammar
        self._probability = 0.0
        self._levels: list[float] = []  # of each block as it was recorded [dB]
        self._known = 0  # blocks of which the own voice was taken out
        self._after: list[bool] = []  # of each block after the own voice: whether it holds speech
        self._heard_on: list[Samples] = []  # what was recorded after the sound
        self._late = 0  # blocks that were heard when it was over
        self._word = self._new_word()
        self._reply = self._new_reply()

    def hear(self, block: Samples) -> Spoken | None:
        """Take the next block from the beginning of the sound on; the word, if it was said."""
        return self._word_in(block, lambda: True)

    def hear_on(self, block: Samples) -> Spoken | None:
        """Take the next block after the sound; the word, where it is told apart from the own voice.

        It may be what is left of the program's own "hold" otherwise.
        """
        if (len(self._levels) + 1) * BLOCK > self._lasting:
            self._heard_on.append(block)
        else:  # it had to wait, and is the end of the prompt
            self._late += 1
        return self._word_in(block, self._is_told_apart)

    def _word_in(self, block: Samples, may_be: Callable[[], bool]) -> Spoken | None:
        """The word, if it pauses with the block, and may be one."""
        self._levels.append(level(block))
        for rest in self._own_voice.taken_out_of(block):
            self._take_in(rest)
            match self._word.feed(rest.samples):
                case SpeechPaused(last=last) if may_be():
                    heard = self._recogniser.recognise(last, self._grammar)
                    if heard.accepted() is not None and heard.confidence >= LEAST_CONFIDENCE:
                        return Spoken(heard, last)
                case SpeechEnded():
                    self._word = self._new_word()
        return None

    def _take_in(self, rest: Rest) -> None:
        """Take in a block without the own voice."""
        self._known += 1
        probability = self._detector.probability(rest.samples)
        self._probability = probability if rest.is_foreign else 0.0
        if rest.is_after:
            self._after.append(probability >= ONSET)
        if isinstance(self._reply.feed(rest.samples), SpeechEnded):
            self._reply = self._new_reply()

    def _is_told_apart(self) -> bool:
        """Whether the own voice was taken out of what came before the word, or is not so loud."""
        first = self._known - len(self._word.unfinished)
        if self._own_voice.lowered(first) >= _LOWERED:
            return True
        return self._are_louder(self._levels[first : self._known], first)

    def probability(self, _block: Samples) -> float:
        """How probably somebody else speaks in the block that was heard last (see `Detector`)."""
        return self._probability

    @property
    def is_undecided(self) -> bool:
        """Whether somebody speaks, and it has yet to be heard if that goes on after the sound.

        Or whether it was the word.
        """
        if len(self._heard_on) >= _LONGEST_AFTER or self._late >= _MOST_BEHIND:
            return False
        if self._word.goes_on and len(self._word.unfinished) <= _LONGEST_WORD:
            return True
        speaking = bool(self._reply.unfinished) or self._probability >= ONSET
        return speaking and len(self._after) < _AFTER

    @property
    def begun(self) -> tuple[Samples, ...]:
        """The blocks, without the own voice, of a reply that goes on after the sound, if one does.

        Known once it is not `is_undecided`.
        """
        said = self._reply.unfinished
        if len(said) - len(self._after) > _MOST_EARLY:
            return ()
        first = self._known - len(said)
        if self._own_voice.lowered(first) >= _LOWERED:
            return said if sum(self._after[:_AFTER]) >= _GOES_ON else ()
        return said if self._is_louder(first) else ()

    def _is_louder(self, first: int) -> bool:
        """Whether what was recorded right after the sound is louder than all before that block.

        Not where the sound began so late, as on a loudspeaker that takes its time to open, that it
        is not known what comes back of it.
        """
        after = len(self._levels) - len(self._heard_on)
        if after * BLOCK > self._lasting + LATEST * SAMPLE_RATE:
            return False
        return self._are_louder(self._levels[after : after + _AFTER], first)

    def _are_louder(self, levels: Sequence[float], first: int) -> bool:
        """Whether enough of these levels [dB] are above all that was recorded before that block."""
        before = self._levels[:first]
        if len(before) < _LEAST_BEFORE:
            return False
        return sum(one >= max(before) + _LOUDER for one in levels) >= _GOES_ON

    @property
    def heard_on(self) -> tuple[Samples, ...]:
        """What was recorded after the sound: the ears would miss it."""
        return tuple(self._heard_on)

    def _new_word(self) -> Endpointer:
        return Endpointer(self, _TIMEOUTS)

    def _new_reply(self) -> Endpointer:
        return Endpointer(self, _OF_A_REPLY)
