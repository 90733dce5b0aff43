"""End of speech, on made sounds: bursts of harmonics and hiss, in steady noise."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from assistant.speech.devices.endpoint import (
    BLOCK,
    Endpointer,
    Event,
    NoInput,
    NoiseFloor,
    SpeechBegan,
    SpeechEnded,
    Timeouts,
    levels,
)
from assistant.speech.ears import SAMPLE_RATE, Samples

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


def events(endpointer: Endpointer, sound: Samples) -> list[tuple[float, Event]]:
    """What the endpointer decides, and at which second; up to the end of the utterance."""
    found: list[tuple[float, Event]] = []
    for start in range(0, len(sound) - BLOCK + 1, BLOCK):
        event = endpointer.feed(sound[start : start + BLOCK])
        if event is not None:
            found.append(((start + BLOCK) / SAMPLE_RATE, event))
        if isinstance(event, SpeechEnded | NoInput):
            break
    return found


@pytest.mark.parametrize("noise", [0.0, 0.0003, 0.003, 0.03])
@pytest.mark.parametrize("seconds", [0.2, 0.6, 2.0])
def test_an_utterance_is_found_whole(noise: float, seconds: float) -> None:
    sound = scene((1.0, vowel(seconds)), length=5.0, noise=noise)
    (_, began), (ended_at, ended) = events(Endpointer(), sound)
    assert isinstance(began, SpeechBegan)
    assert isinstance(ended, SpeechEnded)
    assert began.at == pytest.approx(1.0, abs=SLACK)
    assert ended_at == pytest.approx(1.0 + seconds + 0.8, abs=2 * SLACK)  # completetimeout
    assert not ended.forced
    # 0.3 s are kept before and after: the utterance is a stretch of what came in
    loudest = int(np.argmax(np.abs(ended.samples)))
    begin = int(np.argmax(np.abs(sound))) - loudest
    end = begin + len(ended.samples)
    assert np.array_equal(sound[begin:end], ended.samples)
    assert 0.2 <= 1.0 - begin / SAMPLE_RATE <= 0.3 + 2 * SLACK
    assert 0.1 <= end / SAMPLE_RATE - (1.0 + seconds) <= 0.3 + 2 * SLACK


def test_a_pause_within_an_utterance_does_not_end_it() -> None:
    sound = scene((1.0, vowel(0.5)), (2.0, vowel(0.5)), length=6.0, noise=0.003)
    (_, _), (ended_at, _) = events(Endpointer(), sound)
    assert ended_at == pytest.approx(2.5 + 0.8, abs=2 * SLACK)


def test_completetimeout_is_kept() -> None:
    sound = scene((1.0, vowel(0.5)), (2.0, vowel(0.5)), length=6.0, noise=0.003)
    (_, _), (ended_at, _) = events(Endpointer(Timeouts(completetimeout=0.3)), sound)
    assert ended_at == pytest.approx(1.5 + 0.3, abs=2 * SLACK)


@pytest.mark.parametrize("noise", [0.0, 0.0001, 0.01, 0.2])
@pytest.mark.parametrize("seed", range(3))
def test_steady_noise_is_silence(noise: float, seed: int) -> None:
    sound = steady(4.0, noise, seed).astype(np.float32)
    assert events(Endpointer(Timeouts(timeout=3.0)), sound) == [(3.0, NoInput())]


def test_hum_louder_than_the_voice_is_no_speech_and_hides_none() -> None:
    time = np.arange(5 * SAMPLE_RATE) / SAMPLE_RATE
    hum = np.sin(2 * np.pi * 50 * time) + 0.3 * np.sin(2 * np.pi * 100 * time)
    quiet = (0.2 * hum + steady(5.0, 0.001)).astype(np.float32)
    assert events(Endpointer(Timeouts(timeout=2.0)), quiet)[0][1] == NoInput()
    speech = quiet + scene((1.0, vowel(0.5, 0.05)), length=5.0, noise=0.0)
    (_, began), (ended_at, _) = events(Endpointer(), speech)
    assert isinstance(began, SpeechBegan)
    assert ended_at == pytest.approx(1.5 + 0.8, abs=2 * SLACK)


def test_speech_without_end_is_ended_by_force() -> None:
    sound = scene((1.0, vowel(6.0)), length=8.0, noise=0.003)
    (_, _), (ended_at, ended) = events(Endpointer(Timeouts(maxspeechtimeout=2.0)), sound)
    assert ended_at == pytest.approx(1.0 + 2.0, abs=2 * SLACK)
    assert isinstance(ended, SpeechEnded)
    assert ended.forced


def test_a_machine_that_starts_is_soon_taken_for_the_floor() -> None:
    endpointer = Endpointer(Timeouts(maxspeechtimeout=15.0))
    sound = np.concatenate([steady(2.0, 0.001), steady(8.0, 0.05)]).astype(np.float32)
    found = events(endpointer, sound)
    assert found[-1][0] < 2.0 + 2.0 + 0.8 + 0.5  # two seconds of floor, then completetimeout


def test_the_floor_is_carried_to_the_next_utterance() -> None:
    floor = NoiseFloor()
    events(Endpointer(Timeouts(timeout=2.0), floor), steady(2.0, 0.003).astype(np.float32))
    at_once = scene((0.0, vowel(0.5)), length=3.0, noise=0.003)
    (_, began), _ = events(Endpointer(floor=floor), at_once)
    assert isinstance(began, SpeechBegan)
    assert began.at == pytest.approx(0.0, abs=SLACK)


def test_values_that_are_no_numbers_are_silence() -> None:
    sound = np.full(SAMPLE_RATE * 2, np.nan, np.float32)
    assert events(Endpointer(Timeouts(timeout=1.0)), sound)[-1][1] == NoInput()


def test_a_full_scale_sine_is_at_zero_decibels() -> None:
    # by definition of the reference; 1 kHz falls in the third octave, 800 to 1,600 Hz
    sine = np.sin(2 * np.pi * 1000 * np.arange(BLOCK) / SAMPLE_RATE).astype(np.float32)
    measured = levels(sine)
    assert measured[2] == pytest.approx(10 * np.log10(1.5), abs=0.1)  # Hann: three bins, 1.5 in all
    assert measured[[0, 4]].max() < -40


def test_timeouts_must_be_positive() -> None:
    with pytest.raises(ValueError, match="positive"):
        Timeouts(completetimeout=0.0)
