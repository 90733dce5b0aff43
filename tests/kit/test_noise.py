"""What the kit check finds of the noise of the place, and what it foretells from it."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.kit.expectation import NO_NOISE, Measured, expected, lowest_ratio, measured
from assistant.kit.findings import Fitness
from assistant.kit.noise import check_noise, foretell, over_noise
from assistant.speech.ears import SAMPLE_RATE, Samples
from tests.kit.sounds import noise, spoken_like


@pytest.mark.parametrize("ratio", [20.0, 10.0, 5.0, 0.0])
def test_speech_over_noise_is_the_ratio_at_which_they_were_mixed(ratio: float) -> None:
    level = 0.1 * 10 ** (-ratio / 20)
    speech = spoken_like()
    both = speech + noise(len(speech) / SAMPLE_RATE, level, seed=7)
    assert over_noise(both, noise(5.0, level)) == pytest.approx(ratio, abs=1.5)
    assert over_noise(noise(2.0, level, 9), noise(5.0, level)) < -5.0


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
    found = [order.index(foretell(ratio, CELLS).fitness) for ratio in np.arange(-20.0, 40.0)]
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


@pytest.mark.parametrize("ratio", [-20.0, -3.0, 0.0, 4.9])
def test_below_the_lowest_ratio_that_was_measured_fewer_are_foretold_than_there(
    ratio: float,
) -> None:
    """Of 160 replies in babble at 5 dB 73 were understood: 5 of ten (README, What was measured)."""
    assert lowest_ratio(measured()) == 5.0
    found = foretell(ratio, measured())
    assert found.fitness is Fitness.UNFIT
    assert "fewer than 5 at once" in found.says
    assert "5 to 10 at once" in foretell(5.0, measured()).says


def test_no_place_is_fit_that_is_louder_than_any_that_was_measured() -> None:
    pink = (Measured("pink", 0.0, 10, 10, 0), Measured("pink", 5.0, 10, 10, 0))
    with_hum = (*pink, Measured("hum", 5.0, 10, 10, 0))
    assert foretell(0.0, pink).fitness is Fitness.FIT
    assert foretell(5.0, with_hum).fitness is Fitness.FIT
    assert foretell(0.0, with_hum).fitness is Fitness.UNFIT
    worst = (Measured("hum", 5.0, 10, 0, 0),)
    assert "fewer than 1 at once" in foretell(4.0, worst).says


def test_a_voice_under_the_noise_is_said_so_without_a_number_below_nothing() -> None:
    assert "does not stand out" in foretell(-20.0, measured()).says
    assert "stands 1 decibels" in foretell(1.0, measured()).says


def gated(seconds_open: float) -> Samples:
    """Five seconds of a headset that shuts itself off when nobody speaks."""
    return np.concatenate([noise(seconds_open, 0.01), np.zeros(80_000, np.float32)])[:80_000]


@pytest.mark.parametrize("seconds_open", [0.0, 1.0, 4.0])
def test_nothing_is_foretold_from_a_microphone_that_was_shut(seconds_open: float) -> None:
    found = check_noise(gated(seconds_open), [spoken_like()], measured())
    assert found.fitness is Fitness.DOUBTFUL
    assert "could not be measured" in found.says
    assert "Hold it open" in found.says
    assert "while the machines run" in found.says
    assert "of ten" not in found.says.lower()


def test_a_microphone_that_opens_late_has_measured_the_noise() -> None:
    late = gated(4.7)[::-1]
    assert "Of ten replies" in check_noise(late, [spoken_like()], measured()).says


def test_no_microphone_at_all_has_measured_nothing() -> None:
    assert "could not be measured" in check_noise(np.zeros(0, np.float32), [], measured()).says


def test_where_nobody_was_heard_the_level_of_the_noise_is_told_and_nothing_foretold() -> None:
    """Noise of RMS 0.01: 20 log10(0.01) = -40 dB, by the definition of the decibel."""
    found = check_noise(noise(5.0, 0.01), [], measured())
    assert found.fitness is Fitness.DOUBTFUL
    assert "minus 40 decibels" in found.says
    assert "of ten" not in found.says.lower()


def test_one_phrase_of_three_that_was_said_softly_does_not_decide() -> None:
    place, loud = noise(5.0, 0.01), spoken_like()
    found = check_noise(place, [loud, loud / np.float32(10), loud], measured())
    assert "stands 20 decibels" in found.says


def test_what_is_said_of_the_noise_is_short() -> None:
    """At 165 words a minute twelve seconds are 33 words."""
    said = [foretell(ratio, measured()).says for ratio in np.arange(-20.0, 41.0)]
    said += [check_noise(place, [], measured()).says for place in (gated(0.0), noise(5.0, 0.01))]
    assert max(len(text.split()) for text in said) <= 33
