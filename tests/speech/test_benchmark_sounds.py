"""The sounds with which hearing is measured are what they are called."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.moonshine.nonspeech import noises
from assistant.speech.moonshine.speller.bands import BANDS, TOGETHER, VALUES, centres
from tests.bench.mixing import active_level, mixed
from tests.bench.noises import MACHINES
from tests.bench.parts import Part, seed
from tests.bench.rooms import ROOMS, clipped, quiet, reverberant
from tests.bench.speller.lessons import SHARES
from tests.bench.speller.say import KOKORO, SAID, SPEAKERS, VARIANTS
from tests.bench.speller.strange import HEADS, stranger
from tests.bench.strangers import SENTENCES as SENTENCES_OF_STRANGERS
from tests.bench.strangers import STRANGERS
from tests.bench.talk import SENTENCES, babble
from tests.bench.voices import VOICES

SECOND = SAMPLE_RATE


def tone(frequency: float = 440.0, seconds: float = 1.0, level: float = 0.1) -> Samples:
    time = np.arange(int(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    return np.asarray(level * np.sqrt(2) * np.sin(2 * np.pi * frequency * time), np.float32)


def decibels(ratio: float) -> float:
    return float(20 * np.log10(ratio))


def power_between(sound: Samples, low: float, high: float) -> float:
    frequency = np.fft.rfftfreq(len(sound), 1 / SAMPLE_RATE)
    power = np.abs(np.fft.rfft(sound)) ** 2
    return float(power[(frequency >= low) & (frequency < high)].sum() / power.sum())


def test_nothing_of_development_is_in_the_test() -> None:
    for kind in (VOICES, SENTENCES):
        assert not set(kind[Part.DEVELOPMENT]) & set(kind[Part.TEST])
    pairs = itertools.product((seed(Part.DEVELOPMENT, str(n)) for n in range(50)), range(50))
    assert all(one != seed(Part.TEST, str(other)) for one, other in pairs)


def test_no_speaker_is_in_both_parts() -> None:
    people = ("slt", "kal", "ked", "awb", "rms")
    for person in people:
        parts = [part for part in Part if any(person in voice.name for voice in VOICES[part])]
        assert len(parts) == 1, person


def test_no_voice_of_the_lessons_is_in_the_test() -> None:
    assert not set(KOKORO) & {voice.name for voice in VOICES[Part.TEST]}


def test_every_engine_of_the_lessons_has_a_share_and_a_speaker() -> None:
    assert SAID.keys() == SHARES.keys() == SPEAKERS.keys()
    assert sum(SHARES.values()) == pytest.approx(1.0)


def test_a_stranger_is_in_no_lesson_and_not_in_the_test() -> None:
    assert not set(STRANGERS) & {voice for voices in VOICES.values() for voice in voices}
    for one in STRANGERS:
        variant = one.name.partition("+")[2]
        if one.engine == "kokoro":
            assert one.name not in KOKORO
        else:
            assert variant
            assert variant not in VARIANTS
    assert not set(SENTENCES_OF_STRANGERS) & set().union(*SENTENCES.values())


@pytest.mark.parametrize("name", MACHINES)
def test_a_noise_has_a_level_of_one_and_belongs_to_its_seed(name: str) -> None:
    made = MACHINES[name](SECOND, 8)
    assert np.sqrt(np.mean(made**2)) == pytest.approx(1.0, rel=1e-3)
    assert np.array_equal(made, MACHINES[name](SECOND, 8))
    assert not np.array_equal(made, MACHINES[name](SECOND, 9))


@pytest.mark.parametrize("name", MACHINES)
def test_no_noise_is_one_of_the_recognisers_prior(name: str) -> None:
    """A quarter of the power at most is common to both: mains hum has overtones at 100 Hz."""
    made = MACHINES[name](SECOND, 8)
    for known in noises():
        if known.any():
            assert abs(np.corrcoef(made, known)[0, 1]) < 0.5


def test_pink_noise_has_the_same_power_in_each_octave() -> None:
    """The definition of pink noise."""
    made = MACHINES["pink"](20 * SECOND, 1)
    shares = [power_between(made, low, 2 * low) for low in (125, 250, 500, 1000, 2000)]
    assert max(shares) < 1.15 * min(shares)


def test_hiss_lies_about_two_kilohertz() -> None:
    assert power_between(MACHINES["hiss"](SECOND, 1), 1_000, 4_000) > 0.95


def test_hum_is_made_of_harmonics_of_the_mains() -> None:
    """50 Hz, the nominal frequency of the European grid."""
    made = MACHINES["hum"](SECOND, 2)
    near = sum(power_between(made, 50 * n - 3, 50 * n + 3) for n in range(1, 31))
    assert near > 0.6


def test_impacts_stand_far_above_their_level() -> None:
    made = MACHINES["impacts"](5 * SECOND, 3)
    assert np.abs(made).max() > 6
    assert np.median(np.abs(made)) < 0.5


def test_speech_is_mixed_at_the_ratio_asked_for() -> None:
    speech = np.concatenate([np.zeros(SECOND, np.float32), tone()])  # half of it is silence
    both = mixed(speech, MACHINES["pink"](len(speech), 4), ratio=10.0)
    noise = both - speech
    assert decibels(0.1 / float(np.sqrt(np.mean(noise**2)))) == pytest.approx(10.0, abs=0.1)


def test_a_loud_mixture_is_scaled_and_not_clipped() -> None:
    both = mixed(tone(level=0.6), MACHINES["impacts"](SECOND, 4), ratio=0.0)
    assert np.abs(both).max() == pytest.approx(1.0)
    assert np.sum(np.abs(both) > 0.999) <= 2


@pytest.mark.parametrize("number", range(2 * ROOMS))
def test_a_room_dies_away_in_about_half_a_second(number: int) -> None:
    """Backward integration from -5 to -20 dB (ISO 3382-1), within a third of 0.4 to 0.6 s."""
    click = np.zeros(SECOND, np.float32)
    click[0] = 1.0
    left = np.cumsum(reverberant(click, number)[::-1].astype(np.float64) ** 2)[::-1]
    level = 10 * np.log10(np.maximum(left / left[0], 1e-12))
    lasting = 4 * (np.argmax(level < -20) - np.argmax(level < -5)) / SAMPLE_RATE
    assert 0.3 < lasting < 0.8


def test_a_room_leaves_the_level() -> None:
    assert active_level(reverberant(tone(), 1)) == pytest.approx(0.1, rel=0.01)


def test_a_poor_microphone_clips_or_is_faint() -> None:
    over = clipped(tone())
    assert np.mean(np.abs(over) == 1.0) > 0.5
    faint = quiet(tone())
    assert decibels(active_level(faint)) == pytest.approx(-60.0, abs=0.2)
    assert np.allclose(faint * 32767, np.rint(faint * 32767), atol=1e-3)


def test_babble_keeps_its_level() -> None:
    """Half seconds of it lie within 6 dB, for it is many people who never pause."""
    people = [[tone(frequency) for frequency in (200, 300)], [tone(350), tone(450)]]
    made = babble(people)(5 * SECOND, 6)
    parts = np.sqrt(np.mean(made.reshape(10, -1) ** 2, axis=1))
    assert decibels(parts.max() / parts.min()) < 6


def test_another_head_moves_a_formant_as_far_as_heads_differ() -> None:
    # Women's formants are about a sixth higher than men's (Peterson and Barney, 1952, from memory).
    band = BANDS // 2
    sound = np.zeros((90, TOGETHER, 2, BANDS), np.float32)
    sound[..., band] = 50.0  # more than a microphone favours any band
    moved = []
    for number in range(200):
        heard = stranger(sound.reshape(-1, VALUES), np.random.default_rng(number))
        loudest = heard.reshape(-1, 2, BANDS)[:, 1].mean(axis=0).argmax()
        moved.append(centres()[loudest] / centres()[band])
    step = centres()[band + 1] / centres()[band]
    assert HEADS[0] / step < min(moved) < 0.93
    assert 1.1 < max(moved) < HEADS[1] * step


def test_another_person_speaks_faster_or_slower() -> None:
    # Common practice, no source: a fifth faster, a sixth slower.
    sound = np.zeros((120, VALUES), np.float32)
    counts = [len(stranger(sound, np.random.default_rng(number))) for number in range(200)]
    assert 95 < min(counts) < 110
    assert 130 < max(counts) < 145
