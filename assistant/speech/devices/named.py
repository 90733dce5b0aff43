"""Devices by name: the one that somebody means by a piece of its name.

A name outlives the number that a system gives a device each time that it is plugged in.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from assistant.speech.devices.sound_system import sound_system
from assistant.speech.errors import DeviceError

__all__ = ["KINDS", "Kind", "meant", "names"]

Kind = Literal["microphone", "loudspeaker"]

_CHANNELS: Mapping[Kind, str] = {
    "microphone": "max_input_channels",
    "loudspeaker": "max_output_channels",
}

KINDS = tuple(_CHANNELS)


def names(kind: Kind) -> list[str]:
    """The devices of a kind that are there, as the system names them.

    Raises:
        DeviceError: PortAudio is missing.
    """
    devices = sound_system().query_devices()
    return [str(one["name"]) for one in devices if one[_CHANNELS[kind]] > 0]


def meant(piece: str, kind: Kind, there: Iterable[str]) -> str:
    """The one of the names there that has this piece in it, in capitals or not.

    >>> meant("usb", "microphone", ["HDA Intel", "USB Headset: Audio (hw:1,0)"])
    'USB Headset: Audio (hw:1,0)'

    Raises:
        DeviceError: none has it, or several have.
    """
    every = list(there)
    found = [name for name in every if piece.casefold() in name.casefold()]
    if len(found) == 1:
        return found[0]
    if found:
        raise DeviceError(
            f"'{piece}' may be any of these: {', '.join(found)}; write more of the name"
        )
    known = ", ".join(every) or "none"
    raise DeviceError(f"no {kind} has '{piece}' in its name; there are: {known}")
