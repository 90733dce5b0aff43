"""``gloveside kit`` on a machine without microphone and loudspeaker."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

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


SPOILED_CHOICE = """
import pathlib, platformdirs
platformdirs.user_config_path = lambda *_, **__: pathlib.Path({folder!r})
"""


@pytest.mark.parametrize("choice", [(), ("--microphone", "usb")])
def test_a_choice_that_cannot_be_read_is_one_of_the_findings(
    tmp_path: Path, choice: tuple[str, ...]
) -> None:
    (tmp_path / "devices.yaml").write_text("[unclosed", encoding="utf-8")
    start = SPOILED_CHOICE.format(folder=str(tmp_path))
    outcome = spoiled(start, "kit", "--json", "--jobs", tmp_path, *choice)
    assert outcome.code == 1
    *others, last = json.loads(outcome.out)["found"]
    assert "the disk" in [one["subject"] for one in others]
    assert last["subject"] == "the devices"
    assert "devices.yaml: cannot be read; delete it and choose again." in last["says"]


def test_a_model_that_was_not_fetched_is_named_and_nobody_is_asked_to_read() -> None:
    outcome = spoiled(NO_MODELS, "kit", "--voice", "off", "--json")
    assert outcome.code == 1
    told = json.loads(outcome.out)
    assert told["fitness"] == "unfit"
    unfit = [one for one in told["found"] if one["fitness"] == "unfit"]
    assert "Run: gloveside model fetch moonshine-tiny-en." in unfit[0]["says"]
    assert not any(one["subject"] == "the phrases" for one in told["found"])
