"""The tones: told apart by a noise-worn ear, and never taken for speech."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.speech.devices.endpoint import Endpointer, NoInput, Timeouts
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.voice_activity import VoiceActivity
from assistant.speech.earcons import Earcon, sound_of
from assistant.speech.ears import SAMPLE_RATE, Samples
from tests.bench.noises import pink
from tests.speech.test_voice_activity import MODEL, needs_the_model


@pytest.mark.parametrize("earcon", Earcon)
def test_nothing_of_a_tone_lies_where_noise_takes_the_hearing_first(earcon: Earcon) -> None:
    """From 2 kHz up: 29 CFR 1910.95(g)(10)."""
    samples = sound_of(earcon).samples
    power = np.abs(np.fft.rfft(samples, 1 << 14)) ** 2
    above = np.fft.rfftfreq(1 << 14, 1 / SAMPLE_RATE) > 1_500
    assert power[above].sum() < 1e-3 * power.sum()


def test_they_differ_in_length() -> None:
    lengths = sorted(sound_of(one).seconds for one in Earcon)
    assert lengths[0] * 1.4 < lengths[1] < lengths[2] / 1.4
    assert lengths[2] <= 0.2


@pytest.mark.parametrize("earcon", Earcon)
def test_they_begin_and_end_in_silence(earcon: Earcon) -> None:
    samples = sound_of(earcon).samples
    assert abs(samples[0]) < 0.01
    assert abs(samples[-1]) < 0.01
    assert 0.2 < np.abs(samples).max() <= 0.25


@needs_the_model
@pytest.mark.parametrize("decibels", [0.0, -20.0, -40.0])
@pytest.mark.parametrize("earcon", Earcon)
def test_a_tone_that_the_microphone_hears_is_no_speech(earcon: Earcon, decibels: float) -> None:
    """Six times in a second and a half, as loud as it is played or as it leaks."""
    tone = sound_of(earcon).samples
    sound = np.zeros(2 * SAMPLE_RATE, np.float32) + np.float32(3e-4) * pink(2 * SAMPLE_RATE, 1)
    for at in range(0, 6 * SAMPLE_RATE // 4, SAMPLE_RATE // 4):
        sound[at : at + len(tone)] += tone * np.float32(10 ** (decibels / 20))
    assert isinstance(_first_event(sound), NoInput)


def _first_event(sound: Samples) -> object:
    endpointer = Endpointer(VoiceActivity.load(MODEL), Timeouts(timeout=1.9))
    blocks = (sound[at : at + BLOCK] for at in range(0, len(sound) - BLOCK + 1, BLOCK))
    return next(event for event in map(endpointer.feed, blocks) if event is not None)
