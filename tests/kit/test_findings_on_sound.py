"""What the kit check finds in sound, on sounds of known levels."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from assistant.kit.findings import Fitness
from assistant.kit.microphone import check_speech_level, check_switched_on
from assistant.kit.self_hearing import HEARD, check_self_hearing, likeness
from assistant.kit.sound_levels import active_level, clipped_share, decibels, rms
from assistant.speech.ears import SAMPLE_RATE, Samples
from tests.kit.sounds import noise, spoken_like, tone


def test_levels_are_those_of_the_sounds() -> None:
    """Of a sine of RMS 0.1: 20 log10(0.1) = -20 dB, by the definition of the decibel."""
    assert decibels(rms(tone(1.0, 0.1))) == pytest.approx(-20.0, abs=0.01)
    assert decibels(active_level(spoken_like())) == pytest.approx(-20.0, abs=0.1)


def test_a_constant_part_is_no_noise() -> None:
    assert rms(tone(1.0, 0.1) + np.float32(0.3)) == pytest.approx(0.1, rel=0.001)


def test_nothing_at_all_has_a_level_too() -> None:
    nothing = np.zeros(0, np.float32)
    assert decibels(rms(nothing)) == decibels(active_level(np.zeros(900, np.float32))) == -120.0
    assert clipped_share(nothing) == 0.0


def test_a_muted_microphone_is_told_from_a_quiet_room() -> None:
    assert check_switched_on(np.zeros(80_000, np.float32)).fitness is Fitness.DOUBTFUL
    assert check_switched_on(noise(5.0, 0.0005)).fitness is Fitness.FIT


def test_too_loud_and_too_quiet_are_told_apart() -> None:
    loud: Samples = np.clip(20 * spoken_like(), -1, 1).astype(np.float32)
    assert "too loud" in check_speech_level(loud).says
    assert "very quiet" in check_speech_level(spoken_like() / np.float32(50)).says
    assert check_speech_level(spoken_like()).fitness is Fitness.FIT


def blows(seconds: float, seed: int = 3) -> Samples:
    """Hammer blows: two a second, each a burst that dies away in 50 ms."""
    sound = noise(seconds, 0.001, seed)
    burst = noise(0.2, 0.5, seed + 1) * np.exp(-np.arange(3200) / (0.05 * SAMPLE_RATE))
    for at in range(0, len(sound) - len(burst), SAMPLE_RATE // 2):
        sound[at : at + len(burst)] += burst.astype(np.float32)
    return sound


def recordings() -> Iterator[Samples]:
    for seed in range(20):
        yield noise(4.0, 0.05, seed)
        yield blows(4.0, seed)


def test_no_noise_is_taken_for_the_loudspeaker() -> None:
    played = noise(3.0, 0.1, 99) * np.repeat([1, 0.2, 1, 0.1, 0.8, 0.3], 8000).astype(np.float32)
    assert max(likeness(played, recorded) for recorded in recordings()) < HEARD


def test_the_loudspeaker_is_heard_when_it_is_quieter_than_the_noise() -> None:
    played = noise(3.0, 0.1, 99)
    recorded = noise(4.0, 0.1, 5)
    recorded[4000 : 4000 + len(played)] += 0.3 * played
    assert check_self_hearing(played, recorded).fitness is Fitness.FIT
    assert check_self_hearing(played, noise(4.0, 0.1, 5)).fitness is Fitness.DOUBTFUL
    assert likeness(played, np.zeros(0, np.float32)) == 0.0
