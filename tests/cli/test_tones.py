"""When the tones of a job sound."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cli.conduct import Conductor
from assistant.cli.speaker import speaker_with
from assistant.cli.tones import with_tones
from assistant.journal.entry import opening
from assistant.journal.store import Journal
from assistant.language.english import english
from assistant.session.core import Session
from assistant.speech.earcons import Earcon, sound_of
from assistant.speech.ears import Silence
from assistant.speech.fakes import FakeEars, FakePlayer
from assistant.speech.voice.rendering import Renderer
from assistant.speech.voice.voices import SpokenVoice
from tests.session.job import NOW, kf, two_ends

TONES = {sound_of(one).samples.tobytes(): one for one in Earcon}


def tones_at(folder: Path, *replies: str | Silence) -> list[Earcon]:
    """What sounds in a job with these replies."""
    player = FakePlayer()
    session = Session(two_ends(), kf("07"), english())
    with Renderer(folder / "voice") as renderer, Journal.create(folder / "job") as journal:
        voice = SpokenVoice(renderer, player)
        ears, watcher = with_tones(voice, FakeEars(replies))
        speaker = speaker_with(voice)
        Conductor(session, journal, folder / "job", ears, speaker, lambda: NOW, (watcher,)).begin(
            opening({}, {}, {}, {}, "t")
        )
    return [TONES[sound.samples.tobytes()] for sound in player.begun]


LISTENING, HEARD, HELD = Earcon


@pytest.mark.parametrize(
    ("reply", "tones"),
    [
        ("say again", [LISTENING, HEARD, LISTENING]),
        ("hold", [LISTENING, HELD, LISTENING]),
        ("gibberish", [LISTENING, LISTENING]),
        (Silence(), [LISTENING, LISTENING]),
    ],
)
def test_what_is_understood_and_a_hold_have_a_tone(
    tmp_path: Path, reply: str | Silence, tones: list[Earcon]
) -> None:
    pytest.importorskip("espeakng_loader", reason="the voice needs the package espeakng-loader")
    assert tones_at(tmp_path, reply) == tones
