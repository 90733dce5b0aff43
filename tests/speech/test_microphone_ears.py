"""Recognition in the pauses of speech, on blocks of made sound and a recogniser that reads levels.

Each "word" is a burst of a level of its own, so that what a recogniser hears depends on exactly the
samples that it is given.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from assistant.language.answers import AskContacts, AskNumber, AskYesNo, grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.meaning import Command, ContactStates, Quantity, Word
from assistant.language.recognition import Recognition
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import TOO_LONG, MicrophoneEars
from assistant.speech.ears import SAMPLE_RATE, Samples, Silence, Spoken
from assistant.speech.fakes import FakeDetector, FakeRecogniser, FakeSoundSource
from assistant.trade.contacts import ContactState

CONTACTS = grammar(AskContacts((1, 2)), english())
YES_NO = grammar(AskYesNo(), english())
WORDS = ("one", "two", "closed", "open", "both", "hold", "yes", "no", "and")
LEVELS = dict(zip(WORDS, np.geomspace(0.25, 0.5, len(WORDS)), strict=True))
QUIET = 1e-4


class LevelReader:
    """A recogniser that reads the levels of the bursts.

    Attributes:
        heard: the sounds it was given.
    """

    name = "levels"

    def __init__(self) -> None:
        self.heard: list[Samples] = []

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        self.heard.append(samples)
        loud = np.abs(samples) > 0.1
        edges = np.flatnonzero(np.diff(np.concatenate([[0], loud.view(np.int8), [0]])))
        bursts = [samples[begin:end] for begin, end in zip(edges[::2], edges[1::2], strict=True)]
        text = " ".join(
            min(WORDS, key=lambda word: abs(LEVELS[word] - float(np.median(np.abs(burst)))))
            for burst in bursts
        )
        meaning = grammar.parse(text)
        sure = 0.0 if meaning is None else 1.0
        return Recognition(text, meaning, sure, len(samples) / SAMPLE_RATE, self.name)


def burst(word: str) -> Samples:
    """A square wave of 2 kHz: its level can be read off every sample."""
    wave = np.resize([1, 1, 1, 1, -1, -1, -1, -1], BLOCK * 8)
    return np.asarray(LEVELS[word] * wave, np.float32)


def silence(seconds: float) -> Samples:
    return np.full(round(seconds * SAMPLE_RATE), QUIET, np.float32)


def said(*parts: str | float) -> Samples:
    """Words, and silences in seconds; words that follow each other are 60 ms apart."""
    sounds = [silence(0.6)]
    for part, following in pairwise((*parts, 0.0)):
        sounds.append(burst(part) if isinstance(part, str) else silence(part))
        if isinstance(part, str) and isinstance(following, str):
            sounds.append(silence(0.06))
    return np.concatenate([*sounds, silence(4.0)])


class Counted:
    """Blocks of a sound, and how many of them were taken."""

    def __init__(self, sound: Samples) -> None:
        self.taken = 0
        self._sound = sound

    def __iter__(self) -> Iterator[Samples]:
        for at in range(0, len(self._sound) - BLOCK + 1, BLOCK):
            self.taken += BLOCK
            yield self._sound[at : at + BLOCK]


def listen(sound: Samples, under: Grammar) -> tuple[Spoken, LevelReader, float]:
    """The reply, the recogniser, and the second at which the reply was there."""
    reader, blocks = LevelReader(), Counted(sound)
    ears = MicrophoneEars(FakeSoundSource(blocks), FakeDetector(), reader)
    reply = ears.listen(under, 3.0)
    assert isinstance(reply, Spoken)
    return reply, reader, blocks.taken / SAMPLE_RATE


def after_the_end(sound: Samples, at: float) -> float:
    """Seconds from the last loud sample."""
    return at - float(np.flatnonzero(np.abs(sound) > 0.1)[-1]) / SAMPLE_RATE


def test_a_whole_answer_ends_soon_and_was_recognised_once() -> None:
    sound = said("both", "closed")
    reply, reader, at = listen(sound, CONTACTS)
    states = dict.fromkeys((1, 2), ContactState.CLOSED)
    assert reply.recognition.accepted() == ContactStates.of(states)
    assert len(reader.heard) == 1
    assert 0.3 <= after_the_end(sound, at) <= 0.3 + 0.2  # completetimeout


@pytest.mark.parametrize("words", [("one", "and", "two"), ("one", "closed"), ("and",)])
def test_what_may_go_on_and_what_makes_no_sense_is_waited_for(words: tuple[str, ...]) -> None:
    sound = said(*words)
    _, _, at = listen(sound, CONTACTS)
    assert 1.2 <= after_the_end(sound, at) <= 1.2 + 0.2  # incompletetimeout


def test_an_answer_may_be_told_with_a_pause() -> None:
    reply, reader, _ = listen(said("one", "closed", 0.9, "two", "open"), CONTACTS)
    assert reply.recognition.text == "one closed two open"
    assert len(reader.heard) == 2  # and the first answer was dropped


@pytest.mark.parametrize("before", [("one", "and", "two"), ("two", "closed"), ("and",)])
def test_hold_in_a_pause_is_heard(before: tuple[str, ...]) -> None:
    sound = said(*before, 0.7, "hold")
    reply, _, at = listen(sound, CONTACTS)
    assert reply.recognition.accepted() == Command(Word.HOLD)
    assert reply.recognition.text == "hold"
    assert after_the_end(sound, at) <= 0.3 + 0.2


def test_hold_counts_whatever_is_said_right_after_it() -> None:
    reply, _, _ = listen(said("hold", 0.3, "and", "and"), CONTACTS)
    assert reply.recognition.accepted() == Command(Word.HOLD)
    reply, _, _ = listen(said("hold", 0.3, *WITHOUT_A_PAUSE), CONTACTS)
    assert reply.recognition.accepted() == Command(Word.HOLD)


def test_hold_gives_way_to_an_answer_that_begins_like_it() -> None:
    # "four … turns", of which the first word sounds like "hold": the sound does not matter here.
    sound = said("one", 0.3, "two")
    ears = MicrophoneEars(
        FakeSoundSource(Counted(sound)), FakeDetector(), FakeRecogniser(["hold", "four turns"])
    )
    reply = ears.listen(grammar(AskNumber("turns"), english()), 3.0)
    assert isinstance(reply, Spoken)
    assert reply.recognition.accepted() == Quantity(4, "turns")


def test_no_other_word_in_a_pause_stands_alone() -> None:
    reply, _, _ = listen(said("yes", 0.3, "no"), YES_NO)
    assert reply.recognition.accepted() is None


PARTS = st.lists(
    st.one_of(st.sampled_from(WORDS), st.floats(0.0, 1.6).map(lambda s: round(s, 2))),
    min_size=1,
    max_size=12,
).filter(lambda parts: any(isinstance(part, str) for part in parts))


# 15 s without a pause: maxspeechtimeout of VoiceXML 2.0, and longer than any reply of a job (common
# practice, no source).
WITHOUT_A_PAUSE = ("one",) * 52


def test_who_never_pauses_gives_no_reply() -> None:
    reply, reader, at = listen(said(*WITHOUT_A_PAUSE, "closed"), CONTACTS)
    assert at == pytest.approx(0.6 + 15.0, abs=0.2)
    assert (reply.recognition.text, reply.recognition.accepted()) == (TOO_LONG, None)
    assert not reader.heard


def test_hold_at_the_end_of_it_counts() -> None:
    reply, _, _ = listen(said(*WITHOUT_A_PAUSE[:-6], 0.25, "hold", 0.25), CONTACTS)
    assert reply.recognition.accepted() == Command(Word.HOLD)


@settings(max_examples=150, deadline=None)
@given(PARTS, st.integers(0, 3))
def test_no_sample_is_lost_or_repeated_and_the_answer_is_to_the_samples(
    parts: list[str | float], seed: int
) -> None:
    noise = np.random.default_rng(seed).normal(0, QUIET, BLOCK * 2_000).astype(np.float32)
    sound = said(*parts)
    sound += noise[: len(sound)]  # so that each stretch is found in one place only
    sound = sound[: len(sound) // BLOCK * BLOCK]
    blocks, reader = Counted(sound), LevelReader()
    source = FakeSoundSource(blocks)
    ears = MicrophoneEars(source, FakeDetector(), reader)
    heard_until = 0
    for _ in range(sum(isinstance(part, str) for part in parts)):
        reply = ears.listen(CONTACTS, 1.8)
        if isinstance(reply, Silence):
            break
        assert isinstance(reply, Spoken)
        assert reply.samples is not None
        begin = _place(sound, reply.samples)
        assert heard_until <= begin  # nothing is in two replies
        heard_until = begin + len(reply.samples)
        assert heard_until <= blocks.taken
        assert LevelReader().recognise(reply.samples, CONTACTS) == reply.recognition


def _place(sound: Samples, stretch: Samples) -> int:
    """Where in the sound the stretch lies; it lies there without a gap."""
    (starts,) = np.nonzero(sound == stretch[0])
    places = [at for at in starts if np.array_equal(sound[at : at + len(stretch)], stretch)]
    assert len(places) == 1
    return int(places[0])


@settings(max_examples=100, deadline=None)
@given(PARTS)
@example(["both", 0.81, 0.44, "one"])
def test_every_word_before_the_end_is_in_the_reply(parts: list[str | float]) -> None:
    sound = said(*parts)
    blocks = Counted(sound)
    reply = MicrophoneEars(FakeSoundSource(blocks), FakeDetector(), LevelReader()).listen(
        CONTACTS, 30.0
    )
    assert isinstance(reply, Spoken)
    if reply.recognition.accepted() != Command(Word.HOLD):  # which may stand alone
        # a word of which one block was heard, and some of the one in which it began, may be a
        # click, and the end is declared
        taken = (sound[: blocks.taken - late] for late in (BLOCK, 2 * BLOCK))
        texts = [LevelReader().recognise(heard, CONTACTS).text for heard in taken]
        assert reply.recognition.text in texts
