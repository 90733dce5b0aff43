"""Barge-in: words that cut off what is being played.

The term is VoiceXML's (2.0, W3C 2004, section 4.1.5). Which words do it, `hotword` tells. What else
is said meanwhile counts only where it goes on when the sound is over (`early_reply`).
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from assistant.language.grammar import Grammar
from assistant.speech import wav
from assistant.speech.devices.hotword import Hotword
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.devices.untaken_word import UntakenWord
from assistant.speech.ears import SAMPLE_RATE, Ears, Reply, Samples, Spoken
from assistant.speech.errors import DeviceError
from assistant.speech.voice.voices import Player

__all__ = ["BargeIn", "EarsAfterBargeIn"]

_PRESS = 0.03
"""Seconds between two looks at what is pressed, where the microphone gives nothing to look at."""


class BargeIn:
    """A loudspeaker that is listened over: a word stops what it plays.

    What was to be played after it is passed over until the word was taken. Where somebody speaks at
    the end of a sound, it is listened a moment longer, to hear whether that goes on.

    Args:
        player: the loudspeaker.
        microphone: open.
        hotword: listens for the words that stop a sound; the detector of each is theirs alone.
        pressed: the same word where it was pressed; looked at before each block.
        untaken: where the word waits; given by whoever opens the devices again after a failure, so
            that it is not lost with them.
    """

    def __init__(
        self,
        player: Player,
        microphone: SoundSource,
        hotword: Callable[[Samples], Hotword],
        pressed: Callable[[], Spoken | None] = lambda: None,
        untaken: UntakenWord | None = None,
    ) -> None:
        self._player = player
        self._microphone = microphone
        self._hotword = hotword
        self._pressed = pressed
        self._untaken = untaken or UntakenWord()
        self._begun: tuple[Samples, ...] = ()
        self._heard_on: tuple[Samples, ...] = ()

    def play(self, sound: wav.Sound) -> None:
        """Play the sound; return when it has been played, was stopped or was cut off.

        Raises:
            DeviceError: the loudspeaker fails; a word that was said until then waits all the same.
                A microphone that fails is for the ears to tell.
        """
        self._begun = self._heard_on = ()
        if self._untaken.said is not None:
            return
        played = wav.resample(sound.samples, sound.rate, SAMPLE_RATE)
        hotword = self._hotword(played)
        over = threading.Event()
        with ThreadPoolExecutor(1, "barge-in") as beside:
            listening = beside.submit(self._listen, hotword, over)
            try:
                self._player.play(sound)
            finally:
                over.set()
                self._untaken.said = listening.result()
        if self._untaken.said is None:  # else what was heard is the word, which is given once
            self._begun, self._heard_on = hotword.begun, hotword.heard_on

    def play_through(self, sound: wav.Sound) -> None:
        """Play the sound without listening, also where the word was said and has not been taken.

        Raises:
            DeviceError: the loudspeaker fails.
        """
        self._player.play_through(sound)

    def begin(self, sound: wav.Sound) -> None:
        """Begin with a sound that is not listened over, unless somebody has begun to speak.

        Raises:
            DeviceError: the loudspeaker fails.
        """
        if self._untaken.said is None and not self._begun:
            self._player.begin(sound)

    def stop(self) -> None:
        """Cut the sound off; may be called from another thread."""
        self._player.stop()

    def close(self) -> None:
        """Let go of the loudspeaker."""
        self._player.close()

    def taken(self) -> Spoken | None:
        """The word that cut off what was played; each is given once."""
        return self._untaken.take()

    def heard_already(self) -> tuple[Samples, ...]:
        """What the ears have to begin with; each is given once.

        The beginning of a reply that goes on after what was played, else what came after that.
        """
        heard = self._begun or self._heard_on
        self._begun = self._heard_on = ()
        return heard

    def _listen(self, hotword: Hotword, over: threading.Event) -> Spoken | None:
        """The word that was said or pressed; the sound is stopped until it is over."""
        said = self._said_over(hotword, over)
        while not over.wait(_PRESS):
            said = said or self._pressed()
            if said is not None:
                self._player.stop()  # again, where it had not yet begun
        return said

    def _said_over(self, hotword: Hotword, over: threading.Event) -> Spoken | None:
        """Listen until the sound is over and nothing is undecided, until the word, or in vain."""
        self._microphone.discard()
        try:
            for block in self._microphone.blocks():
                if not over.is_set():
                    if (said := self._pressed() or hotword.hear(block)) is not None:
                        self._player.stop()
                        return said
                elif hotword.is_undecided and (said := hotword.hear_on(block)) is not None:
                    return said
                if over.is_set() and not hotword.is_undecided:
                    return None
        except DeviceError:
            return None
        return None


class EarsAfterBargeIn:
    """Ears that first give the word that cut off what was played.

    Args:
        barge_in: the loudspeaker that is listened over.
        ears: listen when it is silent.
    """

    def __init__(self, barge_in: BargeIn, ears: Ears) -> None:
        self._barge_in = barge_in
        self._ears = ears

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """The word, else a reply."""
        return self._barge_in.taken() or self._ears.listen(grammar, patience)
