"""Pressed answers beside spoken and typed ones."""

from __future__ import annotations

import os
from collections.abc import Iterator

import numpy as np
import pytest

from assistant.language.answers import grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.meaning import Command, Word
from assistant.language.questions import AskYesNo
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.ears import Ended, Reply, Samples, Silence, Spoken
from assistant.speech.fakes import FakeDetector, FakeRecogniser, FakeSoundSource
from assistant.speech.pressed import (
    PRESSED,
    LinesWithPresses,
    Press,
    PressableEars,
    Presses,
    SoundWithPresses,
)
from tests.speech.keys import no_press

HOLDS = ("hold", "stop", "hold it")
"""README, at every step: *hold* (or *stop*); "hold it" is in the phrase book too."""


@pytest.fixture
def yes_or_no() -> Grammar:
    return grammar(AskYesNo(), english())


def words(reply: Reply) -> tuple[str, str]:
    assert isinstance(reply, Spoken)
    assert reply.samples is None
    assert reply.recognition.accepted() is not None
    return reply.recognition.text, reply.recognition.engine


def shown(number: int) -> Presses:
    presses = no_press()
    presses.shown(number)
    return presses


def test_a_press_is_taken_once() -> None:
    presses = shown(3)
    assert presses.put(Press("yes", 3))
    assert presses.take() == "yes"
    assert presses.take() is None


@pytest.mark.parametrize("number", [2, 4])
def test_a_press_on_anything_but_what_is_shown_is_void(number: int) -> None:
    presses = shown(3)
    assert not presses.put(Press("yes", number))
    assert presses.take() is None


def test_a_press_that_waits_is_void_once_something_else_is_shown() -> None:
    presses = shown(3)
    presses.put(Press("yes", 3))
    presses.shown(4)
    assert presses.take() is None


def test_the_first_of_two_presses_counts() -> None:
    presses = shown(3)
    assert presses.put(Press("no", 3))
    assert not presses.put(Press("yes", 3))
    assert presses.take() == "no"


@pytest.mark.parametrize("word", HOLDS)
def test_hold_takes_the_place_of_a_press_that_waits(word: str) -> None:
    presses = shown(3)
    assert presses.put(Press("yes", 3))
    assert presses.put(Press(word, 3))
    assert presses.take() == word
    assert presses.take() is None


@pytest.mark.parametrize("word", HOLDS)
@pytest.mark.parametrize("number", [2, 4])
def test_hold_counts_whatever_is_shown(number: int, word: str) -> None:
    presses = shown(3)
    assert presses.put(Press(word, number))
    presses.shown(4)
    assert presses.take() == word


@pytest.mark.parametrize("word", ["carry on", "yes", "hold"])
def test_nothing_takes_the_place_of_hold(word: str) -> None:
    presses = shown(3)
    assert presses.put(Press("hold", 3))
    assert presses.put(Press(word, 3)) is (word == "hold")
    assert presses.take() == "hold"
    assert presses.take() is None


def test_only_hold_is_taken_while_a_prompt_is_spoken() -> None:
    presses = shown(3)
    presses.put(Press("yes", 3))
    assert presses.take_hold() is None
    presses.put(Press("stop", 3))
    hold = presses.take_hold()
    assert hold is not None
    assert hold.recognition.accepted() == Command(Word.HOLD)


def test_lines_and_presses_are_replies_in_turn(yes_or_no: Grammar) -> None:
    reading, writing = os.pipe()
    presses = shown(0)
    with open(reading) as lines, open(writing, "w") as keyboard:  # noqa: PTH123 - no path
        ears = LinesWithPresses(lines, presses)
        presses.put(Press("yes", 0))
        assert words(ears.listen(yes_or_no, 1.0)) == ("yes", PRESSED)
        keyboard.write("no\n\n")
        keyboard.flush()
        assert words(ears.listen(yes_or_no, 1.0)) == ("no", "typed")
        assert ears.listen(yes_or_no, 1.0) == Silence()
        keyboard.close()
        assert ears.listen(yes_or_no, 1.0) == Ended()
        assert ears.listen(yes_or_no, 1.0) == Ended()


def ears(source: Iterator[Samples], presses: Presses, *texts: str) -> PressableEars:
    pressable = SoundWithPresses(FakeSoundSource(source), presses)
    return PressableEars(MicrophoneEars(pressable, FakeDetector(), FakeRecogniser(texts)))


def quiet(presses: Presses, *, pressed_after: int) -> Iterator[Samples]:
    for count in range(10_000):
        if count == pressed_after:
            presses.put(Press("yes", 0))
        yield np.zeros(BLOCK, np.float32)


def test_a_press_ends_the_listening_to_the_microphone(yes_or_no: Grammar) -> None:
    presses = no_press()
    listening = ears(quiet(presses, pressed_after=5), presses)
    assert words(listening.listen(yes_or_no, 60.0)) == ("yes", PRESSED)


def test_without_a_press_the_microphone_is_heard_as_ever(yes_or_no: Grammar) -> None:
    presses = no_press()
    assert ears(quiet(presses, pressed_after=-1), presses).listen(yes_or_no, 1.0) == Silence()
