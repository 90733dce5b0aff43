"""The parent's side of the voice worker: one process, started when needed, ended when it hangs.

See `worker` for what is said over the pipes. Started from here it must outlive a Ctrl-C,
which is meant for the program; it ends by itself when its standard input does.
"""

from __future__ import annotations

import contextlib
import json
import os
import subprocess
import sys
import threading
from collections.abc import Mapping
from pathlib import Path
from typing import IO, Any

from assistant.speech.errors import VoiceError

__all__ = ["WORKER", "VoiceProcess"]

WORKER = (sys.executable, "-m", "assistant.speech.voice.worker")
"""The command line of the real worker."""

_GRACE = 2.0
"""How long a worker may take to end when told to [s]."""


class VoiceProcess:
    """A worker that answers one request at a time.

    Args:
        command: its command line.
        patience: how long one answer may take before the worker is held to hang [s].
    """

    def __init__(self, command: tuple[str, ...], patience: float) -> None:
        self._command = command
        self._patience = patience
        self._running: subprocess.Popen[str] | None = None

    def ask(self, request: Mapping[str, Any]) -> dict[str, Any]:
        """Send one request; answer its reply, empty if the worker died or hung.

        Raises:
            VoiceError: the worker does not start.
        """
        worker = self._started()
        try:
            print(json.dumps(request), file=_pipe(worker.stdin), flush=True)
        except OSError:
            return {}
        return self._reply(worker)

    def end(self) -> None:
        """End the worker, if one runs."""
        worker, self._running = self._running, None
        if worker is None:
            return
        with contextlib.suppress(OSError):
            _pipe(worker.stdin).close()
        try:
            worker.wait(_GRACE)
        except subprocess.TimeoutExpired:
            worker.kill()
            worker.wait()
        _pipe(worker.stdout).close()

    def _started(self) -> subprocess.Popen[str]:
        """The running worker, started if there is none."""
        if self._running is not None and self._running.poll() is None:
            return self._running
        self.end()
        self._running = subprocess.Popen(
            self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
            env=_environment(),
            start_new_session=True,
        )
        greeting = self._reply(self._running)
        if not greeting.get("ready"):
            self.end()
            raise VoiceError(
                f"the voice cannot start ({greeting.get('error', 'its process ended or hung')}): "
                "install the package espeakng-loader with pip, or espeak-ng with the system's "
                "package manager, or work with the voice off"
            )
        return self._running

    def _reply(self, worker: subprocess.Popen[str]) -> dict[str, Any]:
        """The worker's next line; one that hangs is killed, which ends the line."""
        alarm = threading.Timer(self._patience, worker.kill)
        alarm.daemon = True
        alarm.start()
        try:
            return dict(json.loads(_pipe(worker.stdout).readline()))
        except ValueError:
            return {}
        finally:
            alarm.cancel()


def _environment() -> dict[str, str]:
    """Ours, and where this very package lies, installed or not."""
    home = str(Path(__file__).parents[3])
    paths = (home, os.environ.get("PYTHONPATH", ""))
    return {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, paths))}


def _pipe(stream: IO[str] | None) -> IO[str]:
    """The stream, which a process started with pipes always has."""
    if stream is None:
        raise TypeError("the worker was started without pipes")
    return stream
