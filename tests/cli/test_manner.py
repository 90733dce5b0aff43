"""What "louder" and its like do to the voice, and what is said where they can do no more."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.cli.manner import CHANGES, Wish, adjuster, wished
from assistant.session.effects import Adjust, Adjustment, Say
from assistant.session.events import Silent
from assistant.speech import wav
from assistant.speech.earcons import Earcon, sound_of
from assistant.speech.fakes import FakePlayer
from assistant.speech.pacing import ticks
from assistant.speech.voice.rendering import FASTEST, SOFTEST, Manner, Renderer
from assistant.speech.voice.voices import SpokenVoice


@pytest.mark.parametrize(
    ("how", "limit"),
    [
        (Adjustment.SLOWER, Manner(rate=80)),
        (Adjustment.FASTER, Manner(rate=FASTEST)),
        (Adjustment.LOUDER, Manner(volume=200)),
        (Adjustment.SOFTER, Manner(volume=SOFTEST)),
    ],
)
def test_the_limit_is_told_only_where_it_is_reached(
    tmp_path: Path, how: Adjustment, limit: Manner
) -> None:
    """200 percent and 80 words a minute are the limits of espeak-ng (speak_lib.h)."""
    pytest.importorskip("espeakng_loader", reason="the voice needs the package espeakng-loader")
    player = FakePlayer()
    with Renderer(tmp_path) as renderer:
        voice = SpokenVoice(renderer, player)
        adjust = adjuster(voice, Wish())
        for _ in range(2):
            adjust(Adjust(how))
        assert not player.played
        while not player.played:
            adjust(Adjust(how))
        assert voice.manner == limit
        said = wav.load(renderer.render(CHANGES[how][1], limit))
    assert np.array_equal(player.played[0].samples, said.samples)


def test_a_voice_that_takes_the_place_of_another_speaks_as_that_was_asked_to(
    tmp_path: Path,
) -> None:
    wish = Wish()
    with Renderer(tmp_path) as renderer:
        adjust = adjuster(SpokenVoice(renderer, FakePlayer()), wish)
        adjust(Adjust(Adjustment.SLOWER))
        adjust(Adjust(Adjustment.LOUDER))
        again = SpokenVoice(renderer, FakePlayer())
        adjuster(again, wish)
    assert again.manner == Manner().slower().louder()


def test_a_job_that_goes_on_is_spoken_as_was_wished_before() -> None:
    asked = Silent("2026-01-05T08:00:00.000Z")
    happened = [
        (asked, (Adjust(Adjustment.LOUDER), Say("One."))),
        (asked, ()),
        (asked, (Adjust(Adjustment.SLOWER),)),
    ]
    assert wished(happened).manner == Manner().louder().slower()
    assert wished([]).manner == Manner()


@pytest.mark.parametrize(("volume", "share"), [(200, 2.0), (100, 1.0), (SOFTEST, SOFTEST / 100)])
def test_tones_and_ticks_are_as_loud_as_the_voice(
    tmp_path: Path, volume: int, share: float
) -> None:
    player, tone, pace = FakePlayer(), sound_of(Earcon.HELD), ticks(60, count=1)
    with Renderer(tmp_path) as renderer:
        voice = SpokenVoice(renderer, player, Manner(volume=volume))
        voice.begin(tone)
        voice.play(pace)
    for heard, sound in zip([*player.begun, *player.played], (tone, pace), strict=True):
        assert heard.samples == pytest.approx(share * sound.samples, abs=1e-6)
        assert np.abs(heard.samples).max() <= 1.0
        assert heard.rate == sound.rate
