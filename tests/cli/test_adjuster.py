"""What "louder" and "slower" do to the voice, and what is said where they can do no more."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.cli.equipment import AS_LOUD, AS_SLOW, adjuster
from assistant.session.effects import Adjust, Adjustment
from assistant.speech import wav
from assistant.speech.fakes import FakePlayer
from assistant.speech.voice.rendering import Manner, Renderer
from assistant.speech.voice.voices import SpokenVoice


@pytest.mark.parametrize(
    ("how", "sentence", "limit"),
    [
        (Adjustment.LOUDER, AS_LOUD, Manner(volume=200)),
        (Adjustment.SLOWER, AS_SLOW, Manner(rate=80)),
    ],
)
def test_the_limit_is_told_only_where_it_is_reached(
    tmp_path: Path, how: Adjustment, sentence: str, limit: Manner
) -> None:
    """200 percent and 80 words a minute are the limits of espeak-ng (speak_lib.h)."""
    pytest.importorskip("espeakng_loader", reason="the voice needs the package espeakng-loader")
    player = FakePlayer()
    with Renderer(tmp_path) as renderer:
        voice = SpokenVoice(renderer, player)
        adjust = adjuster(voice)
        for _ in range(3):
            adjust(Adjust(how))
        assert not player.played
        while not player.played:
            adjust(Adjust(how))
        assert voice.manner == limit
        said = wav.load(renderer.render(sentence, limit))
    assert np.array_equal(player.played[0].samples, said.samples)
