"""A reply that begins before the prompt has ended."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.language.answers import AskContacts, grammar, hold_only
from assistant.language.english import english
from assistant.speech import wav
from assistant.speech.devices.barge_in import BargeIn
from assistant.speech.devices.early_reply import EarlyReply
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.earcons import Earcon, sound_of
from assistant.speech.ears import SAMPLE_RATE, Samples, Silence, Spoken
from assistant.speech.fakes import FakeDetector, FakeRecogniser
from tests.speech.room import Playing, Room, leaking, said_over, voice

SECONDS = 4.0
"""Of the prompt."""

DELAY = 0.15
"""With which it comes back."""

CONTACTS = grammar(AskContacts((1, 2)), english())


class Place:
    """A prompt is played, and somebody speaks at a moment for so long."""

    def __init__(self, at: float | None, seconds: float = 0.0) -> None:
        played = voice(SECONDS, 1)
        after = np.zeros(round(2 * SAMPLE_RATE), np.float32)
        heard = leaking(np.concatenate([played, after]), -20, DELAY)
        sound = heard if at is None else said_over(heard, at, seconds)
        self.player = Playing()
        room = Room(sound, self.player, SECONDS + 0.1)
        self.over = FakeRecogniser([])  # asked while the prompt is played
        self.after = FakeRecogniser(["one and two closed"])
        self.barge_in = BargeIn(self.player, room, FakeDetector(), self.over, hold_only(english()))
        self.ears = MicrophoneEars(EarlyReply(room, self.barge_in), FakeDetector(), self.after)
        self.barge_in.play(wav.Sound(played, SAMPLE_RATE))

    def reply(self) -> Samples | None:
        """What the recogniser is given of the reply; None if nothing was heard."""
        match self.ears.listen(CONTACTS, 1.5):
            case Spoken(_, samples):
                return samples
            case reply:
                assert isinstance(reply, Silence)
                return None


@pytest.mark.parametrize("before", [0.1, 0.3, 0.8])
def test_a_reply_over_the_end_of_a_prompt_is_heard_from_its_beginning(before: float) -> None:
    samples = Place(SECONDS - before, before + 1.0).reply()
    assert samples is not None
    said = before + 1.0
    assert said <= len(samples) / SAMPLE_RATE <= said + 0.9  # with the quiet that is kept around it


def test_of_its_sound_the_own_voice_is_taken_out() -> None:
    samples = Place(SECONDS - 0.8, 1.8).reply()
    assert samples is not None
    quiet = samples[: 5 * BLOCK]  # before its beginning, while the prompt sounds
    assert np.sqrt(np.mean(quiet**2)) < 10 ** (-20 / 20) * 0.1 * np.sqrt(3 / 8) / 3


@pytest.mark.parametrize(("at", "seconds"), [(1.5, 0.6), (SECONDS - 0.8, 0.7)])
def test_what_ends_with_the_prompt_is_no_reply(at: float, seconds: float) -> None:
    place = Place(at, seconds)
    assert place.reply() is None
    assert place.after.heard == []


def test_the_own_voice_is_no_reply() -> None:
    place = Place(None)
    assert place.barge_in.begun() == ()
    assert place.reply() is None


def test_what_was_begun_is_given_once() -> None:
    place = Place(SECONDS - 0.3, 1.3)
    assert place.reply() is not None
    assert place.reply() is None


def test_the_next_prompt_ends_it() -> None:
    """It answered what was said before."""
    place = Place(SECONDS - 0.3, 1.3)
    place.player.silent.set()
    place.barge_in.play(wav.Sound(voice(0.5, 2), SAMPLE_RATE))
    assert place.barge_in.begun() == ()


def test_no_tone_sounds_into_it() -> None:
    place = Place(SECONDS - 0.3, 1.3)
    place.barge_in.begin(sound_of(Earcon.LISTENING))
    assert len(place.player.played) == 1
