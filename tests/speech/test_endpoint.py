"""End of speech, on made sounds: bursts of harmonics in steady noise, told apart by level."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from assistant.speech.devices.endpoint import (
    PAUSE,
    Endpointer,
    Event,
    NoInput,
    SpeechBegan,
    SpeechEnded,
    SpeechPaused,
    SpeechResumed,
    Timeouts,
)
from assistant.speech.devices.level import BLOCK, level
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.fakes import FakeDetector

SLACK = 0.1
"""Three blocks of 30 ms decide, and time is answered in whole blocks [s]."""


def steady(seconds: float, rms: float, seed: int = 1) -> NDArray[np.float64]:
    """White noise."""
    noise = np.random.default_rng(seed).standard_normal(round(seconds * SAMPLE_RATE))
    return np.asarray(rms * noise)


def vowel(seconds: float, rms: float = 0.1) -> NDArray[np.float64]:
    """Harmonics of 120 Hz that fall by 6 dB an octave, in syllables of a quarter of a second."""
    time = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    wave = sum(np.sin(2 * np.pi * 120 * k * time) / k for k in range(1, 30))
    syllables = np.abs(np.sin(2 * np.pi * 2 * time)) + 0.05
    sound = np.asarray(wave * syllables)
    return np.asarray(sound * (rms / np.sqrt(np.mean(sound**2))))


def scene(*parts: tuple[float, NDArray[np.float64]], length: float, noise: float) -> Samples:
    """Sounds, each begun at its second, in noise of the given level."""
    sound = steady(length, noise)
    for begin, part in parts:
        at = round(begin * SAMPLE_RATE)
        sound[at : at + len(part)] += part
    return sound.astype(np.float32)


def endpointer(timeouts: Timeouts | None = None) -> Endpointer:
    return Endpointer(FakeDetector(0.035), timeouts)


def events(finder: Endpointer, sound: Samples, complete: bool = True) -> list[tuple[float, Event]]:
    """What the endpointer decides, and at which second; up to the end of the utterance.

    Each pause is taken for a complete answer, or for none.
    """
    found: list[tuple[float, Event]] = []
    for start in range(0, len(sound) - BLOCK + 1, BLOCK):
        event = finder.feed(sound[start : start + BLOCK])
        if event is not None:
            found.append(((start + BLOCK) / SAMPLE_RATE, event))
        if isinstance(event, SpeechPaused) and complete:
            finder.complete()
        if isinstance(event, SpeechEnded | NoInput):
            break
    return found


@pytest.mark.parametrize("noise", [0.0, 0.0003, 0.003, 0.02])
@pytest.mark.parametrize("seconds", [0.2, 0.6, 2.0])
def test_an_utterance_is_found_whole(noise: float, seconds: float) -> None:
    sound = scene((1.0, vowel(seconds)), length=5.0, noise=noise)
    (_, began), (paused_at, paused), (ended_at, ended) = events(endpointer(), sound)
    assert isinstance(began, SpeechBegan)
    assert isinstance(paused, SpeechPaused)
    assert isinstance(ended, SpeechEnded)
    assert began.at == pytest.approx(1.0, abs=SLACK)
    assert paused_at == pytest.approx(1.0 + seconds + PAUSE, abs=2 * SLACK)
    assert ended_at == pytest.approx(1.0 + seconds + 0.3, abs=2 * SLACK)  # completetimeout
    assert not ended.forced
    assert np.array_equal(paused.samples, ended.samples)
    # 0.3 s are kept before: the utterance is a stretch of what came in
    loudest = int(np.argmax(np.abs(ended.samples)))
    begin = int(np.argmax(np.abs(sound))) - loudest
    end = begin + len(ended.samples)
    assert np.array_equal(sound[begin:end], ended.samples)
    assert 0.2 <= 1.0 - begin / SAMPLE_RATE <= 0.3 + 2 * SLACK
    assert 0.1 <= end / SAMPLE_RATE - (1.0 + seconds) <= PAUSE + 2 * SLACK


def test_what_may_go_on_is_waited_for() -> None:
    sound = scene((1.0, vowel(0.5)), (2.3, vowel(0.5)), length=6.0, noise=0.003)
    found = events(endpointer(), sound, complete=False)
    kinds = [type(event) for _, event in found]
    assert kinds == [SpeechBegan, SpeechPaused, SpeechResumed, SpeechPaused, SpeechEnded]
    assert found[-1][0] == pytest.approx(2.8 + 1.2, abs=2 * SLACK)  # incompletetimeout


def test_what_came_after_a_pause_is_told_apart() -> None:
    sound = scene((1.0, vowel(0.5)), (2.2, vowel(0.5)), length=6.0, noise=0.003)
    found = events(endpointer(), sound, complete=False)
    first, second = (event for _, event in found if isinstance(event, SpeechPaused))
    assert np.array_equal(first.last, first.samples)
    assert np.array_equal(second.last, second.samples[-len(second.last) :])
    assert 0.5 + 0.2 <= len(second.last) / SAMPLE_RATE <= 0.5 + 0.3 + PAUSE + 2 * SLACK


def test_after_a_complete_answer_that_goes_on_the_longer_wait_is_back() -> None:
    sound = scene((1.0, vowel(0.5)), (1.75, vowel(0.5)), length=6.0, noise=0.003)
    finder = endpointer()
    told = 0
    for start in range(0, len(sound), BLOCK):
        event = finder.feed(sound[start : start + BLOCK])
        if isinstance(event, SpeechPaused) and not told:
            told = start
            finder.complete()
        if isinstance(event, SpeechEnded):
            assert start / SAMPLE_RATE == pytest.approx(2.25 + 1.2, abs=2 * SLACK)
            break
    assert told


def test_talk_farther_off_neither_begins_nor_prolongs_an_utterance() -> None:
    # 20 dB below: people some metres away, for who speaks is a hand's breadth from the microphone
    far = vowel(5.5, 0.1 * 10 ** (-20 / 20))
    sound = scene((0.2, far), (2.5, vowel(0.6)), length=6.0, noise=0.0003)
    found = events(Endpointer(FakeDetector(0.002)), sound)
    ended_at, ended = found[-1]
    assert isinstance(ended, SpeechEnded)
    assert ended_at == pytest.approx(2.5 + 0.6 + 0.3, abs=2 * SLACK)
    assert 0.6 + 0.6 <= len(ended.samples) / SAMPLE_RATE <= 0.6 + 0.6 + PAUSE + 2 * SLACK


def test_completetimeout_is_kept() -> None:
    sound = scene((1.0, vowel(0.5)), (2.0, vowel(0.5)), length=6.0, noise=0.003)
    *_, (ended_at, _) = events(endpointer(Timeouts(completetimeout=0.4)), sound)
    assert ended_at == pytest.approx(1.5 + 0.4, abs=2 * SLACK)


def test_nobody_speaks() -> None:
    sound = steady(4.0, 0.003).astype(np.float32)
    assert events(endpointer(Timeouts(timeout=3.0)), sound) == [(3.0, NoInput())]


def test_speech_without_end_is_ended_by_force() -> None:
    sound = scene((1.0, vowel(6.0)), length=8.0, noise=0.003)
    *_, (ended_at, ended) = events(endpointer(Timeouts(maxspeechtimeout=2.0)), sound)
    assert ended_at == pytest.approx(1.0 + 2.0, abs=2 * SLACK)
    assert isinstance(ended, SpeechEnded)
    assert ended.forced


def test_values_that_are_no_numbers_are_silence() -> None:
    sound = np.full(SAMPLE_RATE * 2, np.nan, np.float32)
    assert events(endpointer(Timeouts(timeout=1.0)), sound)[-1][1] == NoInput()


def test_a_full_scale_sine_is_at_zero_decibels() -> None:
    # by definition of the reference; 50 Hz is the hum of the mains, and is left out
    time = np.arange(BLOCK) / SAMPLE_RATE
    assert level(np.sin(2 * np.pi * 1000 * time).astype(np.float32)) == pytest.approx(0.0, abs=0.1)
    assert level(np.sin(2 * np.pi * 50 * time).astype(np.float32)) < -40
    assert level(np.zeros(BLOCK, np.float32)) == -120.0


@pytest.mark.parametrize(
    "wrong",
    [
        {"timeout": 0.0},
        {"maxspeechtimeout": 0.0},
        {"completetimeout": 0.1},
        {"completetimeout": 0.6, "incompletetimeout": 0.5},
    ],
)
def test_timeouts_that_make_no_sense_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="timeout"):
        Timeouts(**wrong)
