"""Microphone and loudspeaker together, in a job in which the loudspeaker fails."""

from __future__ import annotations

import contextlib
import json
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.cli import attend, headset, hearing, run
from assistant.cli.board import BoardLink
from assistant.cli.main import main
from assistant.session.wording import STANDS_STILL
from assistant.speech import wav
from assistant.speech.devices import loudspeaker
from assistant.speech.devices.level import BLOCK
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import DeviceError
from assistant.speech.fakes import FakeDetector, FakeRecogniser
from assistant.speech.pressed import PRESSED, Press
from assistant.speech.voice.rendering import Manner
from tests.cli.command import KF_07, two_ends
from tests.speech.keys import no_press
from tests.speech.room import Playing

PRESSES = no_press()


class Quiet:
    """A microphone that hears nothing."""

    overflows = 0

    def discard(self) -> None:
        pass

    def blocks(self) -> Iterator[Samples]:
        while True:
            time.sleep(0.001)
            yield np.zeros(BLOCK, np.float32)


class Unplugged(Playing):
    """A loudspeaker that is unplugged in its first prompt, once hold was pressed.

    It plays nothing while it is away, and then one prompt, in which the user ends the program.
    """

    def play(self, sound: wav.Sound) -> None:
        self.played.append(sound)
        if len(self.played) == 1:
            assert PRESSES.put(Press("hold", 0))
            assert self.silent.wait(10), "the press cuts the prompt off"
            raise DeviceError("the loudspeaker was unplugged")
        raise KeyboardInterrupt


class Rendering:
    """Says every text in the same short sound."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "sound.wav"
        wav.write(self.file, np.zeros(SAMPLE_RATE // 10, np.float32))

    def render(self, text: str, manner: Manner | None = None) -> Path:
        return self.file


@contextlib.contextmanager
def opened(what: object) -> Iterator[object]:
    yield what


def test_hold_that_was_pressed_is_the_first_reply_once_the_loudspeaker_is_there_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    player = Unplugged()
    for module, name, stand_in in (
        (loudspeaker, "Loudspeaker", lambda _device: player),
        (headset, "chosen", lambda _device: None),
        (headset, "open_microphone", lambda _talk: opened(Quiet())),
        (headset, "open_recogniser", lambda _name: FakeRecogniser([])),
        (headset, "open_detector", FakeDetector),
        (hearing, "open_detector", FakeDetector),
        (run, "open_renderer", lambda: opened(Rendering(tmp_path))),
        (run, "open_board", lambda *_: opened(BoardLink(presses=PRESSES))),
        (attend, "BETWEEN_LOOKS", 0.0),
        (attend, "look_again", lambda: None),
    ):
        monkeypatch.setattr(module, name, stand_in)
    job = tmp_path / "job"
    options = ("--unit", str(KF_07), "--job", str(job), "--tones", "off")
    assert main(["run", str(two_ends()), *options]) == 3
    assert STANDS_STILL in capsys.readouterr().err
    lines = (job / "journal.jsonl").read_text().splitlines()
    opening, returned, held = map(json.loads, lines)
    assert [entry["kind"] for entry in (opening, returned, held)] == ["opened", "returned", "heard"]
    assert (held["heard"]["text"], held["heard"]["engine"]) == ("hold", PRESSED)
    assert held["meant"] == {"command": "hold"}
