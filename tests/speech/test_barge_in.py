"""The word that cuts off what is played, and the own voice that does not."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import numpy as np
import pytest

from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.language.meaning import Command, Word
from assistant.speech import wav
from assistant.speech.devices.barge_in import BargeIn, EarsAfterBargeIn
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.own_voice import OwnVoice
from assistant.speech.devices.untaken_word import UntakenWord
from assistant.speech.ears import SAMPLE_RATE, Samples, Spoken
from assistant.speech.errors import DeviceError
from assistant.speech.fakes import FakeEars, FakePlayer, FakeRecogniser
from assistant.speech.pressed import PRESSED, Press
from tests.speech.keys import no_press
from tests.speech.room import Playing, Room, blocks, leaking, listening, said_over, voice

HOLD = Command(Word.HOLD)
SECONDS = 4.0


def power(sound: Samples) -> float:
    return float(np.mean(np.square(sound)))


@pytest.mark.parametrize("delay", [0.0, 0.03, 0.15, 0.4])
def test_the_own_voice_is_taken_out(delay: float) -> None:
    played = voice(SECONDS, 1)
    heard = leaking(played, -20, delay)
    own = OwnVoice(played)
    rests = [rest for block in blocks(heard) for rest in own.taken_out_of(block)]
    assert len(rests) == len(heard) // BLOCK
    loud = [power(block) > 1e-6 for block in blocks(heard)]  # where it is not in a pause
    assert not any(rest.is_foreign for rest, own in zip(rests, loud, strict=True) if own)
    left = np.concatenate([rest.samples for rest in rests])[2 * SAMPLE_RATE :]
    assert power(left) < power(heard[2 * SAMPLE_RATE :]) / 100  # 20 dB; the noise stays


def test_what_fades_away_between_words_is_nobody_else() -> None:
    """Nothing of the response is in the gap, but the room sounds on, and nothing else does."""
    played = voice(SECONDS, 1)
    gaps = np.arange(len(played)) % SAMPLE_RATE > SAMPLE_RATE // 2
    played[gaps] = 0.0
    fading = np.random.default_rng(6).standard_normal(SAMPLE_RATE // 2)
    fading *= np.exp(-np.arange(len(fading)) / (0.06 * SAMPLE_RATE)) / 150.0
    fading[0] = 1.0
    heard = (0.1 * np.convolve(played, fading)[: len(played)]).astype(np.float32)
    own = OwnVoice(played)
    rests = [rest for block in blocks(heard) for rest in own.taken_out_of(block)]
    assert not any(rest.is_foreign for rest in rests)


def test_somebody_else_stays() -> None:
    played = voice(SECONDS, 1)
    clean = leaking(played, -20, 0.15)
    own = OwnVoice(played)
    rests = [rest for block in blocks(said_over(clean, 2.0)) for rest in own.taken_out_of(block)]
    spoken = slice(2 * SAMPLE_RATE // BLOCK + 1, round(2.5 * SAMPLE_RATE) // BLOCK)
    left = np.concatenate([rest.samples for rest in rests[spoken]])
    wanted = said_over(np.zeros_like(clean), 2.0)[spoken.start * BLOCK : spoken.stop * BLOCK]
    assert power(left - wanted) < power(wanted) / 10
    assert sum(rest.is_foreign for rest in rests[spoken]) > 0.6 * len(rests[spoken])


def test_how_much_it_was_lowered() -> None:
    """Much where it came back as it was played, hardly where something else came back."""
    played, other = voice(SECONDS, 1), voice(SECONDS, 2)
    known, mistaken = OwnVoice(played), OwnVoice(played)
    for block in blocks(leaking(played, -20, 0.15)):
        known.taken_out_of(block)
    for block in blocks(leaking(other, -20, 0.15)):
        mistaken.taken_out_of(block)
    assert known.lowered(100) > 15.0
    assert mistaken.lowered(100) < 2.0
    assert known.lowered(30) > 15.0  # of the first second too, once it is known
    assert mistaken.lowered(30) < 2.0
    assert known.lowered(0) == 0.0


def barge_in(sound: Samples, player: Playing, *words: str) -> tuple[BargeIn, FakeRecogniser]:
    recogniser = FakeRecogniser(words)
    return BargeIn(player, Room(sound, player), listening(recogniser)), recogniser


def test_hold_cuts_off_and_is_the_next_reply() -> None:
    played, player = voice(SECONDS, 1), Playing()
    cut_off, recogniser = barge_in(said_over(leaking(played, -20, 0.15), 1.5), player, "hold")
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert player.stops == 1
    cut_off.play(wav.Sound(played, SAMPLE_RATE))  # what was to be said after it is not
    assert len(player.played) == 1
    ears = EarsAfterBargeIn(cut_off, FakeEars(["done"]))
    reply = ears.listen(hold_only(english()), 1.0)
    assert isinstance(reply, Spoken)
    assert reply.recognition.accepted() == HOLD
    assert reply.samples is recogniser.heard[0]
    after = ears.listen(hold_only(english()), 1.0)
    assert isinstance(after, Spoken)
    assert after.recognition.text == "done"
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert len(player.played) == 2


def test_what_is_played_through_is_heard_although_the_word_was_said() -> None:
    played, player = voice(SECONDS, 1), Playing()
    cut_off, recogniser = barge_in(said_over(leaking(played, -20, 0.15), 1.5), player, "hold")
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    cut_off.play_through(wav.Sound(played, SAMPLE_RATE))
    assert len(player.played_through) == 1
    assert len(recogniser.heard) == 1  # nothing more was listened for


def test_nothing_else_cuts_off() -> None:
    played, player = voice(SECONDS, 1), Playing()
    said = said_over(leaking(played, -20, 0.15), 1.5)
    cut_off, recogniser = barge_in(said, player, "one and two closed")
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert len(recogniser.heard) == 1
    assert player.stops == 0
    assert cut_off.taken() is None


@pytest.mark.parametrize("at", [0.0, 0.3])
def test_hold_over_the_first_words_cuts_off_when_the_own_voice_is_known(at: float) -> None:
    played, player = voice(SECONDS, 1), Playing()
    cut_off, recogniser = barge_in(said_over(leaking(played, -20, 0.15), at, 0.4), player, "hold")
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert player.stops == 1
    assert len(recogniser.heard[0]) / SAMPLE_RATE >= 0.4
    assert cut_off.taken() is not None


def at_the_end(
    at: float, *words: str, heard: Samples | None = None, decibels: float = -20
) -> BargeIn:
    """Somebody says a word of 0.4 s that begins then, in a prompt of four seconds."""
    played, player = voice(SECONDS, 1), Playing()
    back = leaking(np.pad(played if heard is None else heard, (0, SAMPLE_RATE)), decibels, 0.15)
    room = Room(said_over(back, at, 0.4), player, SECONDS + 0.1)
    cut_off = BargeIn(player, room, listening(FakeRecogniser(words)))
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    return cut_off


@pytest.mark.parametrize("decibels", [-20, -100])  # the last: a headset, nothing comes back
@pytest.mark.parametrize("at", [3.4, 3.5, 3.6, 3.7, 3.8])
def test_hold_that_ends_with_a_prompt_or_soon_after_is_the_next_reply(
    at: float, decibels: float
) -> None:
    cut_off = at_the_end(at, "hold", decibels=decibels)
    said = cut_off.taken()
    assert said is not None
    assert said.recognition.accepted() == HOLD
    assert cut_off.heard_already() == ()  # it is given once


def test_another_word_at_the_end_of_a_prompt_is_none() -> None:
    cut_off = at_the_end(3.8, "one closed")
    assert cut_off.taken() is None


def test_after_a_prompt_nothing_is_weighed_where_the_own_voice_was_not_told_apart() -> None:
    """It may be what is left of the program's own "hold", as where the sound has had gaps."""
    cut_off = at_the_end(3.8, "hold", heard=voice(SECONDS, 2), decibels=0)
    assert cut_off.taken() is None


class Opening(Playing):
    """A loudspeaker that is still being opened when it is first told to stop."""

    def stop(self) -> None:
        FakePlayer.stop(self)
        if self.stops > 1:
            self.silent.set()


def test_a_press_while_the_loudspeaker_opens_cuts_off() -> None:
    played, player = voice(SECONDS, 1), Opening()
    presses = no_press()
    assert presses.put(Press("hold", 0))
    room = Room(leaking(played, -20, 0.15), player)
    cut_off = BargeIn(player, room, listening(FakeRecogniser([])), presses.take_hold)
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert player.stops > 1
    assert cut_off.taken() is not None


class Lifeless(Room):
    """A microphone that gives nothing."""

    def blocks(self) -> Iterator[Samples]:
        raise DeviceError("no sound from the microphone")


def test_a_press_cuts_off_where_the_microphone_fails() -> None:
    played, player = voice(SECONDS, 1), Playing()
    presses = no_press()
    room = Lifeless(played, player)
    cut_off = BargeIn(player, room, listening(FakeRecogniser([])), presses.take_hold)
    pressing = threading.Timer(0.1, presses.put, [Press("hold", 0)])
    pressing.start()
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    pressing.join()
    assert cut_off.taken() is not None


@pytest.mark.parametrize("delay", [0.15, 0.6, 0.8])
@pytest.mark.parametrize("decibels", [-40, -20, -6])
def test_the_own_voice_is_never_weighed(decibels: float, delay: float) -> None:
    played, player = voice(SECONDS, 1), Playing()
    cut_off, recogniser = barge_in(leaking(played, decibels, delay), player, "hold", "hold")
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert recogniser.heard == []


@pytest.mark.parametrize(("word", "cuts_off"), [("hold", True), ("yes", False)])
def test_a_press_of_hold_cuts_off_and_no_other(word: str, cuts_off: bool) -> None:
    played, player = voice(SECONDS, 1), Playing()
    presses = no_press()
    assert presses.put(Press(word, 0))
    room = Room(leaking(played, -20, 0.15), player)
    cut_off = BargeIn(player, room, listening(FakeRecogniser([])), presses.take_hold)
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert player.stops == cuts_off
    said = cut_off.taken()
    assert (said is not None) is cuts_off
    assert presses.take() == (None if cuts_off else word)  # any other waits for the ears
    if said is not None:
        assert (said.recognition.accepted(), said.recognition.engine) == (HOLD, PRESSED)


def test_hold_that_is_pressed_after_another_answer_cuts_off_and_is_the_next_reply() -> None:
    played, player = voice(SECONDS, 1), Playing()
    presses = no_press()
    assert presses.put(Press("yes", 0))
    assert presses.put(Press("hold", 0))
    room = Room(leaking(played, -20, 0.15), player)
    cut_off = BargeIn(player, room, listening(FakeRecogniser([])), presses.take_hold)
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert player.stops
    reply = EarsAfterBargeIn(cut_off, FakeEars([])).listen(hold_only(english()), 1.0)
    assert isinstance(reply, Spoken)
    assert (reply.recognition.accepted(), reply.recognition.engine) == (HOLD, PRESSED)
    assert presses.take() is None  # the answer before it counts for nothing


class Unplugged(Room):
    """A microphone that fails."""

    def blocks(self) -> Iterator[Samples]:
        self.player.silent.set()
        raise DeviceError("no sound")


def test_a_microphone_that_fails_does_not_cut_off_what_is_said() -> None:
    """The ears, which need it next, tell."""
    played, player = voice(1.0, 1), Playing()
    room = Unplugged(played, player)
    cut_off = BargeIn(player, room, listening(FakeRecogniser([])))
    cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert player.stops == 0
    assert cut_off.taken() is None


class Dead(Playing):
    """A loudspeaker that fails."""

    def play(self, sound: wav.Sound) -> None:
        raise DeviceError("stands still")


def test_a_loudspeaker_that_fails_is_told_and_the_listening_ends() -> None:
    played = voice(1.0, 1)
    cut_off, _ = barge_in(played, Dead())
    with pytest.raises(DeviceError, match="stands still"):
        cut_off.play(wav.Sound(played, SAMPLE_RATE))


class Unreliable(Playing):
    """A loudspeaker that fails once it is told to stop: somebody has said the word."""

    def play(self, sound: wav.Sound) -> None:
        super().play(sound)
        raise DeviceError("unplugged")


@pytest.mark.parametrize("engine", ["fake", PRESSED])
def test_hold_outlives_a_loudspeaker_that_fails_in_the_same_prompt(engine: str) -> None:
    played, player, untaken = voice(SECONDS, 1), Unreliable(), UntakenWord()
    presses = no_press()
    heard = leaking(played, -20, 0.15)
    if engine == PRESSED:
        assert presses.put(Press("hold", 0))
    else:
        heard = said_over(heard, 1.5)
    words = listening(FakeRecogniser(["hold"]))
    cut_off = BargeIn(player, Room(heard, player), words, presses.take_hold, untaken)
    with pytest.raises(DeviceError, match="unplugged"):
        cut_off.play(wav.Sound(played, SAMPLE_RATE))
    assert player.stops
    other = Playing()
    again = BargeIn(other, Room(heard, other), words, presses.take_hold, untaken)
    again.play(wav.Sound(played, SAMPLE_RATE))
    assert other.played == []  # what cut off the prompt cuts off what is said of the return
    ears = EarsAfterBargeIn(again, FakeEars(["done"]))
    replies = [ears.listen(hold_only(english()), 1.0) for _ in range(2)]
    assert isinstance(replies[0], Spoken)
    assert (replies[0].recognition.accepted(), replies[0].recognition.engine) == (HOLD, engine)
    assert isinstance(replies[1], Spoken)
    assert replies[1].recognition.text == "done"  # it is given once
