"""What "louder" and its like do to the voice, and what is said where they can do no more."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.cli.equipment import CHANGES, Wish, adjuster
from assistant.session.effects import Adjust, Adjustment
from assistant.speech import wav
from assistant.speech.fakes import FakePlayer
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
