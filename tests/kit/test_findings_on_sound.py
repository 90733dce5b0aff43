"""What the kit check finds in sound, on sounds of known levels."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from assistant.kit.expectation import NO_NOISE, Measured, check_noise, expected, measured
from assistant.kit.findings import Fitness
from assistant.kit.microphone import check_speech_level, check_switched_on
from assistant.kit.self_hearing import HEARD, check_self_hearing, likeness
from assistant.kit.sound_levels import active_level, clipped_share, decibels, over_noise, rms
from assistant.speech.ears import SAMPLE_RATE, Samples


def noise(seconds: float, level: float, seed: int = 1) -> Samples:
    deviates = np.random.default_rng(seed).standard_normal(round(seconds * SAMPLE_RATE))
    return np.asarray(level * deviates, np.float32)


def tone(seconds: float, level: float) -> Samples:
    """A sine of this RMS."""
    at = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    return np.asarray(level * np.sqrt(2.0) * np.sin(2 * np.pi * 440.0 * at), np.float32)


def blows(seconds: float, seed: int = 3) -> Samples:
    """Hammer blows: two a second, each a burst that dies away in 50 ms."""
    sound = noise(seconds, 0.001, seed)
    burst = noise(0.2, 0.5, seed + 1) * np.exp(-np.arange(3200) / (0.05 * SAMPLE_RATE))
    for at in range(0, len(sound) - len(burst), SAMPLE_RATE // 2):
        sound[at : at + len(burst)] += burst.astype(np.float32)
    return sound


def spoken_like() -> Samples:
    """Four syllables with silence around them."""
    silence, syllable = np.zeros(8000, np.float32), tone(0.25, 0.1)
    return np.concatenate([silence, syllable, syllable, silence, syllable, syllable, silence])


def test_levels_are_those_of_the_sounds() -> None:
    """Of a sine of RMS 0.1: 20 log10(0.1) = -20 dB, by the definition of the decibel."""
    assert decibels(rms(tone(1.0, 0.1))) == pytest.approx(-20.0, abs=0.01)
    assert decibels(active_level(spoken_like())) == pytest.approx(-20.0, abs=0.1)


def test_a_constant_part_is_no_noise() -> None:
    assert rms(tone(1.0, 0.1) + np.float32(0.3)) == pytest.approx(0.1, rel=0.001)


@pytest.mark.parametrize("ratio", [20.0, 10.0, 5.0, 0.0])
def test_speech_over_noise_is_the_ratio_at_which_they_were_mixed(ratio: float) -> None:
    level = 0.1 * 10 ** (-ratio / 20)
    speech = spoken_like()
    both = speech + noise(len(speech) / SAMPLE_RATE, level, seed=7)
    assert over_noise(both, noise(5.0, level)) == pytest.approx(ratio, abs=1.5)
    assert over_noise(noise(2.0, level, 9), noise(5.0, level)) < -5.0


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


CELLS = (
    Measured("pink", 5.0, 10, 6, 0),
    Measured("pink", 10.0, 10, 9, 0),
    Measured("babble", 5.0, 10, 2, 1),
    Measured("babble", 10.0, 10, 8, 1),
)


def test_between_what_was_measured_it_is_interpolated_and_beyond_it_is_not() -> None:
    assert expected(7.5, CELLS) == pytest.approx((0.5, 0.75))
    assert expected(30.0, CELLS) == pytest.approx((0.8, 0.9))
    assert expected(-10.0, CELLS) == pytest.approx((0.2, 0.6))
    clean = Measured("", NO_NOISE, 10, 10, 0)
    assert expected(25.0, (*CELLS, clean)) == pytest.approx((0.9, 0.95))
    assert expected(60.0, (*CELLS, clean)) == (1.0, 1.0)


def test_more_noise_is_never_fitter() -> None:
    order = [Fitness.UNFIT, Fitness.DOUBTFUL, Fitness.FIT]
    found = [order.index(check_noise(ratio, CELLS).fitness) for ratio in np.arange(-20.0, 40.0)]
    assert found == sorted(found)
    assert found[0] == 0


def test_what_comes_with_the_program_covers_all_noises_at_the_same_ratios() -> None:
    ratios: dict[str, set[float]] = {}
    for cell in measured():
        assert 0 <= cell.understood + cell.wrong <= cell.cases
        assert cell.cases >= 40
        ratios.setdefault(cell.noise, set()).add(cell.ratio)
    assert ratios.pop("") == {NO_NOISE}
    assert set(ratios) == {"pink", "hum", "impacts", "hiss", "babble"}
    assert len({frozenset(of) for of in ratios.values()}) == 1
