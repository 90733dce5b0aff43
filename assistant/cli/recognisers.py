"""The recognisers among which the user chooses."""

from __future__ import annotations

import argparse
import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from assistant.cli.folders import cache_folder, model_folder
from assistant.speech.ears import Recogniser

__all__ = [
    "DEFAULT_RECOGNISER",
    "RECOGNISERS",
    "Engine",
    "add_recogniser",
    "open_recogniser",
]


@dataclass(frozen=True, slots=True)
class Engine:
    """A recogniser that can be chosen.

    Args:
        model: the name of its model.
        load: makes the recogniser from the folder of its model.
    """

    model: str
    load: Callable[[Path], Recogniser]


# Each is large, and only one is used: it is imported where it is loaded.
def _moonshine(folder: Path) -> Recogniser:
    from assistant.speech.moonshine.recogniser import Moonshine  # noqa: PLC0415

    return Moonshine.load(folder, cache_folder() / "recogniser")


def _vosk(folder: Path) -> Recogniser:
    from assistant.speech.vosk_recogniser import Vosk  # noqa: PLC0415

    return Vosk.load(folder)


RECOGNISERS: Mapping[str, Engine] = {
    "moonshine": Engine("moonshine-tiny-en", _moonshine),
    "moonshine-base": Engine("moonshine-base-en", _moonshine),
    "vosk": Engine("vosk-en-small", _vosk),
}
"""By the name under which each is chosen."""

DEFAULT_RECOGNISER = "moonshine"


def add_recogniser(parser: argparse.ArgumentParser) -> None:
    """Let the user choose the recogniser."""
    parser.add_argument(
        "--recogniser",
        choices=RECOGNISERS,
        default=DEFAULT_RECOGNISER,
        help="which recogniser listens (default: %(default)s)",
    )


def open_recogniser(name: str) -> Recogniser:
    """A recogniser, loaded from its model folder where it has not been before.

    Args:
        name: one of `RECOGNISERS`.

    Raises:
        Complaint: its model was not fetched.
        ModelError: its model cannot be used.
    """
    engine = RECOGNISERS[name]
    return _loaded(engine.load, model_folder("recogniser", engine.model))


@functools.cache
def _loaded(load: Callable[[Path], Recogniser], folder: Path) -> Recogniser:
    """Once: it would be loaded anew at every return of a headset."""
    return load(folder)
