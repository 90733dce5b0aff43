"""``gloveside kit`` on a machine without microphone and loudspeaker."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.command import spoiled

NO_PORTAUDIO = "import sys; sys.modules['sounddevice'] = None"
NO_MODELS = (
    "import pathlib, assistant.cli.kit as kit; kit.models_folder = lambda: pathlib.Path('/none')"
)


def test_without_devices_the_rest_is_checked_and_the_remedy_is_named(tmp_path: Path) -> None:
    outcome = spoiled(NO_PORTAUDIO, "kit", "--voice", "off", "--jobs", tmp_path)
    assert outcome.code == 1
    assert "the clock: The clock says" in outcome.out
    assert "unfit     the devices: no sound on this machine" in outcome.out
    assert "install PortAudio" in outcome.out
    assert outcome.out.count("Do not start") == 1
    assert "Traceback" not in outcome.err


def test_a_model_that_was_not_fetched_is_named_and_nobody_is_asked_to_read() -> None:
    outcome = spoiled(NO_MODELS, "kit", "--voice", "off", "--json")
    assert outcome.code == 1
    told = json.loads(outcome.out)
    assert told["fitness"] == "unfit"
    unfit = [one for one in told["found"] if one["fitness"] == "unfit"]
    assert "Run: gloveside model fetch moonshine-tiny-en." in unfit[0]["says"]
    assert not any(one["subject"] == "the phrases" for one in told["found"])
