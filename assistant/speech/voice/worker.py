"""The process that turns texts into WAV files: pyttsx3 and espeak-ng live only here.

Theory of operation: one JSON request a line on standard input, one JSON reply a line on standard
output. The first line out says that the engine is ready, or why it is not. pyttsx3 prints while it
works, so the real standard output is kept aside for replies and everything printed goes to
standard error.

pyttsx3 2.99 with espeak-ng: ``runAndWait`` may return before the file is written (always the first
time), and a wrong voice is only notified. So the end of each utterance is awaited as an event, and
its notices are collected. Should espeak-ng hang, the parent's patience ends this process.

espeak-ng comes from the package ``espeakng-loader``, else from the system. Its library is loaded
here by path, before pyttsx3 asks for it by name (``libespeak-ng.so.1``), which then finds it
already loaded.
"""

from __future__ import annotations

import ctypes
import importlib
import json
import os
import sys
import tempfile
import threading
import time
from pathlib import Path
from typing import Any, TextIO

__all__ = ["LONGEST_DATA_PATH", "Engine", "main", "prepare_library"]

LONGEST_DATA_PATH = 140
"""Characters; espeak-ng 1.52 keeps the path of its data in 160 bytes and ends the process on
longer ones (153 still worked, 163 did not)."""

_MOST_TRIES = 100
_LOOKS = 20
_SAME = 0.006  # the volume is kept in whole percent


class Engine:
    """pyttsx3 with its espeak-ng driver, one utterance at a time."""

    def __init__(self) -> None:
        self._engine: Any = importlib.import_module("pyttsx3").init("espeak")
        self._finished = threading.Event()
        self._faults: list[str] = []
        self._engine.connect("finished-utterance", self._on_finished)
        self._engine.connect("error", self._on_error)
        self._engine.runAndWait()  # until its first run it only collects what is to be set

    def _on_finished(self, name: object, completed: bool) -> None:
        self._finished.set()

    def _on_error(self, name: object, exception: Exception) -> None:
        self._faults.append(str(exception))
        self._finished.set()

    def render(self, text: str, file: str, voice: str, rate: int, volume: int) -> None:
        """Write the text as a WAV file; see `rendering.Manner` for how it is said.

        Raises:
            RuntimeError: the engine refused the voice or could not write.
        """
        self._finished.clear()
        self._faults.clear()
        self._engine.setProperty("voice", voice)
        self._set("rate", rate)
        self._set("volume", volume / 100)
        self._engine.save_to_file(text, file)
        self._engine.runAndWait()
        self._finished.wait()
        if self._faults:
            raise RuntimeError(self._faults[0])

    def _set(self, name: str, value: float) -> None:
        """Set a property, again and again until it counts.

        espeak-ng takes it over in a thread of its own, which now and then sleeps through a single
        request: the text would then be said in the manner of the one before.
        """
        for _ in range(_MOST_TRIES):
            self._engine.setProperty(name, value)
            for _ in range(_LOOKS):
                if abs(self._engine.getProperty(name) - value) < _SAME:
                    return
                time.sleep(0.001)
        raise RuntimeError(f"the {name} could not be set to {value}")


def prepare_library(home: Path) -> None:
    """Load espeak-ng from ``espeakng-loader``; without that package the system's will serve.

    Args:
        home: a folder for as long as the process lives, with a short path.
    """
    try:
        loader = importlib.import_module("espeakng_loader")
        data = Path(loader.get_data_path())
        ctypes.CDLL(loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)
    except (ImportError, OSError, RuntimeError):
        return
    os.environ["ESPEAK_DATA_PATH"] = str(_short(data, home))


def _short(data: Path, home: Path) -> Path:
    """The path of the data, by way of a link where it is too long for espeak-ng."""
    if len(os.fsencode(data)) <= LONGEST_DATA_PATH:
        return data
    link = home / data.name
    link.symlink_to(data)
    return link


def _start(replies: TextIO) -> Engine | None:
    """Start the engine and say whether it runs."""
    try:
        engine = Engine()
    except Exception as error:  # pyttsx3 raises anything, even bare Exception
        print(json.dumps({"ready": False, "error": str(error)}), file=replies, flush=True)
        return None
    print(json.dumps({"ready": True}), file=replies, flush=True)
    return engine


def _answer(engine: Engine, request: dict[str, Any]) -> dict[str, Any]:
    """Carry out one request."""
    try:
        engine.render(**request)
    except Exception as error:  # whatever it was, the parent must hear of it
        return {"done": False, "error": str(error)}
    return {"done": True}


def main() -> int:
    """Serve requests until standard input ends."""
    replies = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)
    with tempfile.TemporaryDirectory(prefix="voice-") as home:
        prepare_library(Path(home))
        engine = _start(replies)
        if engine is None:
            return 1
        for line in sys.stdin:
            print(json.dumps(_answer(engine, json.loads(line))), file=replies, flush=True)
    return 0


if __name__ == "__main__":
    status = main()
    sys.stdout.flush()
    os._exit(status)  # espeak-ng may fail an assertion when Python unloads it
