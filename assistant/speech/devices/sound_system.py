"""PortAudio through sounddevice, asked for only where a device is really used."""

from __future__ import annotations

import contextlib
import importlib
from typing import Any

from assistant.speech.errors import DeviceError

__all__ = ["look_again", "sound_system"]


def sound_system() -> Any:
    """The module ``sounddevice``, which cannot even be imported without PortAudio.

    Raises:
        DeviceError: PortAudio or sounddevice is missing.
    """
    try:
        return importlib.import_module("sounddevice")
    except (ImportError, OSError) as error:
        raise DeviceError(
            f"no sound on this machine ({error}): install PortAudio (on Debian: the package "
            "libportaudio2) and, with pip, sounddevice; or type the replies with the voice off"
        ) from error


def look_again() -> None:
    """Find devices that were plugged in since; every stream that is open ends.

    PortAudio's list of devices stands still from its start, so it is started anew; sounddevice has
    no public name for that.

    Raises:
        DeviceError: PortAudio does not start, as while a sound server is started anew.
    """
    system = sound_system()
    with contextlib.suppress(system.PortAudioError):
        system._terminate()  # which fails where the start failed at the look before
    try:
        system._initialize()
    except system.PortAudioError as error:
        raise DeviceError(
            f"no sound ({error}): start the sound server again, or type the replies with the voice "
            "off"
        ) from error
