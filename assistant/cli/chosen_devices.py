"""The microphone and loudspeaker chosen by name, remembered for every later command."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import platformdirs
import yaml

from assistant.cli.complaint import Complaint
from assistant.cli.files import put_text
from assistant.cli.presence import is_there
from assistant.speech.devices.named import KINDS, Kind, meant, names

__all__ = ["SYSTEM", "choose", "chosen"]

SYSTEM = "system"
"""What is named to have the system's own choice again."""


def chosen(kind: Kind) -> str | None:
    """The name of the device that was chosen; None for the system's own choice.

    Raises:
        DeviceError: it is not there now.
        Complaint: the file that remembers it is spoiled.
    """
    piece = _remembered().get(kind)
    return None if piece is None else meant(piece, kind, names(kind))


def choose(kind: Kind, piece: str) -> None:
    """Use the device with this piece in its name from now on, or the system's own choice.

    Raises:
        DeviceError: there is no such device now, or there are several.
        Complaint: it cannot be remembered.
    """
    remembered = {name: kept for name, kept in _kept().items() if name != kind}
    if piece != SYSTEM:
        meant(piece, kind, names(kind))
        remembered[kind] = piece
    try:
        _file().parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Complaint(f"{_file()} cannot be written: {error.strerror}; allow it") from error
    put_text(_file(), yaml.safe_dump(remembered), "allow writing there")


def _file() -> Path:
    return platformdirs.user_config_path("gloveside", appauthor=False) / "devices.yaml"


def _remembered() -> Mapping[Kind, str]:
    kept = _kept()
    return {kind: str(kept[kind]) for kind in KINDS if kind in kept}


def _kept() -> dict[str, Any]:
    """Everything in the file, also what somebody wrote there that is no device.

    Raises:
        Complaint: one may not look there, or the file is spoiled.
    """
    file = _file()
    if not is_there(file, "allow it"):
        return {}
    try:
        return dict(yaml.safe_load(file.read_text(encoding="utf-8")) or {})
    except (OSError, ValueError, TypeError, yaml.YAMLError) as error:
        raise Complaint(f"{file}: cannot be read; delete it and choose again") from error
