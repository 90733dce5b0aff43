"""The microphone, and when what it hears counts."""

from __future__ import annotations

import argparse
import contextlib
import sys
from collections.abc import Iterator
from contextlib import AbstractContextManager
from pathlib import Path

from assistant.cli.chosen_devices import chosen
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.devices.push_to_talk import PushToTalk, TalkSwitch

__all__ = ["KEY", "OPEN", "add_talk", "open_microphone"]

OPEN, KEY = "open", "key"
"""When speech counts: always, or after a key; anything else is the device file of a pedal."""


def add_talk(parser: argparse.ArgumentParser) -> None:
    """Let the user choose when what is said counts."""
    parser.add_argument(
        "--talk",
        default=OPEN,
        metavar="open|key|DEVICE",
        help="when speech counts: always; after any key at the terminal, until the end of speech; "
        "or while a pedal or button (/dev/input/...) is held down (default: %(default)s)",
    )


@contextlib.contextmanager
def open_microphone(talk: str = OPEN) -> Iterator[SoundSource]:
    """The microphone, open.

    Args:
        talk: when what it hears counts: always, after a key (`KEY`), or while the pedal with this
            device file is held down.

    Raises:
        DeviceError: there is none, or no such switch.
    """
    from assistant.speech.devices.microphone import Microphone  # noqa: PLC0415

    with Microphone(chosen("microphone")) as microphone:
        if talk == OPEN:
            yield microphone
            return
        with _open_switch(talk) as switch:
            yield PushToTalk(microphone, switch)


def _open_switch(talk: str) -> AbstractContextManager[TalkSwitch]:
    from assistant.speech.devices import talk_switches  # noqa: PLC0415 - not on every system

    if talk == KEY:
        print("Press any key, then speak.", file=sys.stderr)
        return talk_switches.open_terminal_key(sys.stdin.fileno())
    return talk_switches.open_pedal(Path(talk))
