"""The voice that the user chose."""

from __future__ import annotations

import argparse
import contextlib
import sys
from collections.abc import Iterator
from pathlib import Path

from assistant.cli.chosen_devices import chosen
from assistant.cli.folders import cache_folder
from assistant.speech.voice.rendering import Renderer
from assistant.speech.voice.voices import FolderVoice, PrintedVoice, SpokenVoice, Voice

__all__ = ["add_voice", "closing_voice", "open_renderer", "open_voice"]


def add_voice(parser: argparse.ArgumentParser, default: str) -> None:
    """Let the user choose how prompts are said."""
    parser.add_argument(
        "--voice",
        default=default,
        metavar="on|off|FOLDER",
        help="speak, print, or write WAV files to a folder (default: %(default)s)",
    )


@contextlib.contextmanager
def open_renderer() -> Iterator[Renderer]:
    """The renderer of speech, with its worker process ended afterwards."""
    with Renderer(cache_folder() / "speech") as renderer:
        yield renderer


def open_voice(where: str, renderer: Renderer) -> Voice:
    """The voice that the user chose."""
    if where == "off":
        return PrintedVoice(sys.stdout)
    if where == "on":
        from assistant.speech.devices.loudspeaker import Loudspeaker  # noqa: PLC0415

        return SpokenVoice(renderer, Loudspeaker(chosen("loudspeaker")))
    return FolderVoice(Path(where), renderer)


@contextlib.contextmanager
def closing_voice(voice: Voice) -> Iterator[None]:
    """Let go of the loudspeaker in the end, if the voice has one."""
    try:
        yield
    finally:
        if isinstance(voice, SpokenVoice):
            voice.close()
