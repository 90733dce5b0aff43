"""Devices that are chosen by a piece of their name, and remembered."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import platformdirs
import pytest
import yaml

from assistant.cli.chosen_devices import SYSTEM, choose, chosen
from assistant.cli.complaint import Complaint
from assistant.speech.devices import named
from assistant.speech.errors import DeviceError
from tests.cli.command import TOO_LONG

INTERNAL = {"name": "HDA Intel: ALC (hw:0,0)", "max_input_channels": 2, "max_output_channels": 2}
HEADSET = {"name": "USB Headset: Audio (hw:1,0)", "max_input_channels": 1, "max_output_channels": 2}
SPEAKER = {"name": "USB Speaker (hw:2,0)", "max_input_channels": 0, "max_output_channels": 2}


@pytest.fixture(autouse=True)
def there(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> list[dict[str, object]]:
    devices: list[dict[str, object]] = [INTERNAL, HEADSET, SPEAKER]
    system = SimpleNamespace(query_devices=lambda: devices)
    monkeypatch.setattr(named, "sound_system", lambda: system)
    monkeypatch.setattr(platformdirs, "user_config_path", lambda *_, **__: tmp_path / "config")
    return devices


def test_nothing_chosen_is_the_systems_own_choice() -> None:
    assert chosen("microphone") is None


def test_a_piece_of_the_name_is_enough_and_is_remembered() -> None:
    choose("microphone", "usb")
    assert chosen("microphone") == HEADSET["name"]
    assert chosen("loudspeaker") is None
    choose("microphone", SYSTEM)
    assert chosen("microphone") is None


def test_a_name_that_fits_several_is_refused_with_all_of_them() -> None:
    with pytest.raises(DeviceError, match=r"USB Headset.*USB Speaker.*write more of the name"):
        choose("loudspeaker", "usb")


def test_a_name_that_fits_none_is_refused_with_what_is_there() -> None:
    with pytest.raises(DeviceError, match="there are: HDA Intel"):
        choose("microphone", "bluetooth")
    assert chosen("microphone") is None


def test_what_was_chosen_is_missed_and_found_again(there: list[dict[str, object]]) -> None:
    """Unplugged and plugged in again, it has another number."""
    choose("microphone", "headset")
    there.remove(HEADSET)
    with pytest.raises(DeviceError, match="no microphone has 'headset'"):
        chosen("microphone")
    there.append({**HEADSET, "name": "USB Headset: Audio (hw:3,0)"})
    assert chosen("microphone") == "USB Headset: Audio (hw:3,0)"


def test_a_spoiled_file_is_named_with_a_remedy(tmp_path: Path) -> None:
    (tmp_path / "config").mkdir()
    (tmp_path / "config" / "devices.yaml").write_text("[unclosed", encoding="utf-8")
    with pytest.raises(Complaint, match=r"devices\.yaml: cannot be read; delete it"):
        chosen("microphone")


def test_a_file_at_which_one_may_not_look_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(platformdirs, "user_config_path", lambda *_, **__: tmp_path / TOO_LONG)
    with pytest.raises(Complaint, match=r"devices\.yaml cannot be looked at: .*; allow it"):
        chosen("microphone")


def test_what_else_somebody_wrote_into_the_file_is_left(tmp_path: Path) -> None:
    file = tmp_path / "config" / "devices.yaml"
    file.parent.mkdir()
    file.write_text("note: [two headsets, one drill]\n", encoding="utf-8")
    choose("microphone", "usb")
    assert yaml.safe_load(file.read_text(encoding="utf-8")) == {
        "note": ["two headsets", "one drill"],
        "microphone": "usb",
    }
