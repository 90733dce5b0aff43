"""A reply that begins before the prompt has ended."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from assistant.language.answers import AskContacts, grammar
from assistant.language.english import english
from assistant.speech import wav
from assistant.speech.devices.barge_in import BargeIn
from assistant.speech.devices.early_reply import EarlyReply
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.earcons import Earcon, sound_of
from assistant.speech.ears import SAMPLE_RATE, Samples, Silence, Spoken
from assistant.speech.fakes import FakeDetector, FakeRecogniser
from tests.speech.room import Playing, Room, leaking, listening, said_over, voice

SECONDS = 4.0
"""Of the prompt."""

DELAY = 0.15
"""With which it comes back."""

CONTACTS = grammar(AskContacts((1, 2)), english())


class Place:
    """A prompt is played, and somebody speaks from a moment on.

    Args:
        at: the moment; None where nobody speaks.
        parts: for how long; then, where there are more, the pause and again for how long.
        after: what is recognised of it, one text at each pause.
    """

    def __init__(
        self, at: float | None, *parts: float, after: Sequence[str] = ("one and two closed",)
    ) -> None:
        played = voice(SECONDS, 1)
        silence = np.zeros(round(6 * SAMPLE_RATE), np.float32)
        sound = leaking(np.concatenate([played, silence]), -20, DELAY)
        if at is not None:
            for number, seconds in enumerate(parts):
                if number % 2 == 0:
                    sound = said_over(sound, at + sum(parts[:number]), seconds)
        self.player = Playing()
        room = Room(sound, self.player, SECONDS + 0.1)
        self.over = FakeRecogniser([])  # asked while the prompt is played
        self.after = FakeRecogniser(after)
        self.barge_in = BargeIn(self.player, room, listening(self.over))
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


def test_a_long_reply_with_a_pause_is_heard_from_its_beginning() -> None:
    """Not from the end of the pause, nor from where a word that cuts off had been too long."""
    samples = Place(SECONDS - 0.8, 4.5).reply()
    assert samples is not None
    assert 4.5 <= len(samples) / SAMPLE_RATE <= 5.4
    in_two_parts = Place(SECONDS - 1.2, 0.8, 0.4, 1.4, after=["one", "one and two closed"])
    samples = in_two_parts.reply()
    assert samples is not None
    assert 2.6 <= len(samples) / SAMPLE_RATE <= 3.5


def test_a_reply_right_after_what_ended_with_the_prompt_loses_nothing() -> None:
    """It is said while it is listened whether the other goes on."""
    samples = Place(SECONDS - 0.8, 0.7, 0.25, 1.0).reply()
    assert samples is not None
    assert len(samples) / SAMPLE_RATE >= 1.1


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
    assert place.barge_in.heard_already() == ()
    assert place.reply() is None


def test_who_talks_through_a_prompt_and_on_gives_no_reply_to_it() -> None:
    """In babble that would be so after every prompt."""
    after = Place(0.0, SECONDS + 3.0).barge_in.heard_already()
    assert len(after) * BLOCK / SAMPLE_RATE < 1.0  # what came after the prompt, and nothing before


def test_where_the_own_voice_is_mistaken_what_is_no_louder_is_no_reply() -> None:
    """What is left of it would go on after it otherwise, as a reply does."""
    played, sound = voice(SECONDS, 1), leaking(voice(SECONDS + 1.0, 2), -6, DELAY)
    for one in (played, sound):
        one[SAMPLE_RATE : round(2.8 * SAMPLE_RATE)] = 0.0  # between two sentences
    assert len(_heard_already(played, sound)) / SAMPLE_RATE < 1.0  # what came after the prompt


def test_where_the_own_voice_is_drowned_what_is_louder_is_a_reply() -> None:
    """In noise little of it can be taken out, and nothing has to be."""
    played = voice(SECONDS, 1)
    drowned = leaking(np.concatenate([played, np.zeros(SAMPLE_RATE, np.float32)]), -30, DELAY)
    noise = 0.008 * np.random.default_rng(5).standard_normal(len(drowned))
    heard = _heard_already(played, said_over(drowned + noise.astype(np.float32), 3.5, 1.5))
    assert 0.7 <= len(heard) / SAMPLE_RATE <= 1.7


def test_a_reply_in_a_quiet_voice_is_heard_from_its_beginning() -> None:
    """Fainter than the prompt comes back, and known apart from it."""
    played = voice(SECONDS, 1)
    sound = leaking(np.concatenate([played, np.zeros(SAMPLE_RATE, np.float32)]), -6, DELAY)
    faint = 0.3 * said_over(np.zeros_like(sound), SECONDS - 0.5, 1.5)
    heard = _heard_already(played, sound + faint)
    assert 0.7 <= len(heard) / SAMPLE_RATE <= 1.7


def test_who_begins_with_the_last_syllable_loses_nothing() -> None:
    """It is too short yet to be speech for certain."""
    played = voice(SECONDS, 1)
    sound = leaking(np.concatenate([played, np.zeros(SAMPLE_RATE, np.float32)]), -20, DELAY)
    heard = _heard_already(played, said_over(sound, SECONDS + 0.02, 0.9))
    assert len(heard) / SAMPLE_RATE >= 0.3


@pytest.mark.parametrize("seed", range(3))
def test_where_nothing_comes_back_a_reply_is_heard_from_its_beginning(seed: int) -> None:
    """As with a headset: when it would come back is not known then, and does not matter."""
    noise = 1e-4 * np.random.default_rng(seed).standard_normal(6 * SAMPLE_RATE)
    heard = _heard_already(voice(SECONDS, 20 + seed), said_over(noise.astype(np.float32), 3.5, 1.5))
    assert 0.7 <= len(heard) / SAMPLE_RATE <= 1.7


@pytest.mark.parametrize("late", [1.5, 2.0, 3.0])
def test_the_own_voice_is_no_reply_where_the_loudspeaker_opens_late(late: float) -> None:
    played = voice(SECONDS, 1)
    heard = _heard_already(played, leaking(np.pad(played, (0, 5 * SAMPLE_RATE)), -6, late), late)
    assert len(heard) / SAMPLE_RATE < 1.0  # what came after the prompt, and nothing before


def test_what_waited_to_be_heard_is_no_end_of_the_prompt() -> None:
    """Where the listener is behind, the prompt's end is still to come when it is over."""
    played = voice(SECONDS, 1)
    sound = said_over(leaking(np.pad(played, (0, 2 * SAMPLE_RATE)), -20, DELAY), 2.9, 2.2)
    heard = _heard_already(played, sound, -1.0)
    assert 1.5 <= len(heard) / SAMPLE_RATE <= 2.0


def _heard_already(played: Samples, sound: Samples, late: float = 0.0) -> Samples:
    """What the ears have to begin with when the sound was heard over a prompt that began late."""
    player = Playing()
    room = Room(sound, player, SECONDS + 0.1 + late)
    over = BargeIn(player, room, listening(FakeRecogniser([])))
    over.play(wav.Sound(played, SAMPLE_RATE))
    return np.concatenate(over.heard_already() or [np.zeros(0, np.float32)])


def test_what_was_begun_is_given_once() -> None:
    place = Place(SECONDS - 0.3, 1.3)
    assert place.reply() is not None
    assert place.reply() is None


def test_the_next_prompt_ends_it() -> None:
    """It answered what was said before."""
    place = Place(SECONDS - 0.3, 1.3)
    place.player.silent.set()
    place.barge_in.play(wav.Sound(voice(0.5, 2), SAMPLE_RATE))
    assert place.barge_in.heard_already() == ()


def test_no_tone_sounds_into_it() -> None:
    place = Place(SECONDS - 0.3, 1.3)
    place.barge_in.begin(sound_of(Earcon.LISTENING))
    assert len(place.player.played) == 1
