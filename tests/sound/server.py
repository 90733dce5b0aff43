"""A sound server of its own, with null sinks in place of a loudspeaker and a mouth.

What the program plays goes to one sink, and its monitor can be recorded; what a person says is
played to the other, whose monitor is the program's microphone. Nothing else on the machine is
touched: the server has a folder of its own. It is PulseAudio, from Debian's package ``pulseaudio``,
which PortAudio reaches by ALSA.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import TracebackType
from typing import IO, Self

import numpy as np

from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["PLAYED", "SAID", "Monitor", "SoundServer", "lacking", "program"]

PLAYED, SAID = "played", "said"
"""The sinks: of the program's loudspeaker, and of the person's mouth."""

ROOT = Path(__file__).parents[2]

_SCRIPT = f"""\
load-module module-native-protocol-unix socket={{socket}} auth-anonymous=1
load-module module-null-sink sink_name={PLAYED} rate=48000
load-module module-null-sink sink_name={SAID} rate=48000
set-default-sink {PLAYED}
set-default-source {SAID}.monitor
"""

_STARTING = 10.0
"""How long the server may take to answer [s]."""

_BLOCK = SAMPLE_RATE // 50
"""Samples of 20 ms."""

LOUD = 0.003
"""RMS from which on a block is not silence; a null sink adds no noise."""


def lacking() -> str:
    """What there is not for such a server; empty where everything is there."""
    needed = ("pulseaudio", "pactl", "paplay", "parec")
    programs = [name for name in needed if not shutil.which(name)]
    if programs:
        return f"no {', '.join(programs)} (on Debian: apt-get install pulseaudio pulseaudio-utils)"
    probe = [sys.executable, "-c", "import sounddevice"]  # not here: it looks for devices at once
    if subprocess.run(probe, capture_output=True, check=False).returncode:
        return "no PortAudio (on Debian: apt-get install libportaudio2 libasound2-plugins)"
    return ""


class SoundServer:
    """The server, running between ``with`` and its end."""

    def __init__(self) -> None:
        self._folder = Path(tempfile.mkdtemp(prefix="sound-"))
        self.environment: Mapping[str, str] = {
            **os.environ,
            "XDG_RUNTIME_DIR": str(self._folder),
            "PULSE_RUNTIME_PATH": str(self._folder),
            "PULSE_SERVER": f"unix:{self._folder / 'native'}",
        }
        script = self._folder / "script"
        script.write_text(_SCRIPT.format(socket=self._folder / "native"), encoding="ascii")
        self._command = [
            "pulseaudio",
            "-n",
            "--daemonize=no",
            "--exit-idle-time=-1",
            "-F",
            str(script),
        ]
        self._process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Self:
        self.plug_in()
        return self

    def plug_in(self) -> None:
        """Have both devices there; return when they are."""
        self._process = subprocess.Popen(
            self._command,
            env=self.environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        until = time.monotonic() + _STARTING
        while self._asked("info") != 0:
            if time.monotonic() > until:
                self.unplug()
                raise RuntimeError("the sound server does not answer")
            time.sleep(0.05)

    def unplug(self) -> None:
        """Take both devices away."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.unplug()
        shutil.rmtree(self._folder, ignore_errors=True)

    def control(self, *words: str) -> str:
        """Run ``pactl`` with these words; answer what it prints."""
        done = subprocess.run(
            ["pactl", *words], env=self.environment, capture_output=True, text=True, check=True
        )
        return done.stdout.strip()

    def say(self, file: Path) -> None:
        """Play a WAV file into the program's microphone; return when it is over."""
        subprocess.run(
            ["paplay", f"--device={SAID}", "--latency-msec=40", str(file)],
            env=self.environment,
            check=True,
        )

    def leak(self, decibels: float) -> None:
        """Have the microphone hear what the loudspeaker plays, so many decibels louder."""
        self.control("load-module", "module-loopback", f"source={PLAYED}.monitor", f"sink={SAID}")
        stream = self.control("list", "short", "sink-inputs").split()[0]
        self.control("set-sink-input-volume", stream, str(10 ** (decibels / 20)))

    def run(self, *words: str) -> None:
        """Run Python with these words, its sound going through the server."""
        subprocess.run([sys.executable, *words], env=self.environment, cwd=ROOT, check=True)

    def monitor(self, sink: str) -> Monitor:
        """Record what a sink plays, from now on."""
        return Monitor(self, sink)

    def _asked(self, *words: str) -> int:
        command = ["pactl", *words]
        return subprocess.run(
            command, env=self.environment, capture_output=True, check=False
        ).returncode


@dataclass(slots=True)
class Monitor:
    """What a sink plays, block by block as it comes; recording between ``with`` and its end.

    Attributes:
        blocks: of each block the moment at which it came (`time.monotonic`) and its RMS.
    """

    server: SoundServer
    sink: str
    blocks: list[tuple[float, float]] = field(default_factory=list)
    _over: threading.Event = field(default_factory=threading.Event)
    _thread: threading.Thread = field(init=False)
    _samples: list[Samples] = field(default_factory=list)

    def __enter__(self) -> Self:
        self._thread = threading.Thread(target=self._record)
        self._thread.start()
        until = time.monotonic() + _STARTING
        while not self.blocks and time.monotonic() < until:
            time.sleep(0.02)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._over.set()
        self._thread.join()

    def _record(self) -> None:
        """Record, anew whenever the server was away."""
        form = ["--raw", "--format=s16le", f"--rate={SAMPLE_RATE}", "--channels=1"]
        command = ["parec", f"--device={self.sink}.monitor", "--latency-msec=20", *form]
        while not self._over.is_set():
            with subprocess.Popen(
                command,
                env=self.server.environment,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            ) as recorder:
                assert recorder.stdout is not None
                self._take(recorder.stdout)
                recorder.terminate()
            self._over.wait(0.1)

    def _take(self, stream: IO[bytes]) -> None:
        while not self._over.is_set() and len(data := stream.read(2 * _BLOCK)) == 2 * _BLOCK:
            samples = np.frombuffer(data, np.int16).astype(np.float32) / np.float32(32_768)
            self._samples.append(samples)
            self.blocks.append((time.monotonic(), float(np.sqrt(np.mean(samples**2)))))

    def quiet_for(self) -> float:
        """For how long it has been silent [s]."""
        now = time.monotonic()
        last = next((at for at, level in reversed(self.blocks) if level >= LOUD), 0.0)
        return now - last

    def loud_moments(self) -> list[float]:
        """When each block came that is not silence."""
        return [at for at, level in self.blocks if level >= LOUD]

    def sound(self) -> wav.Sound:
        """Everything that was recorded."""
        return wav.Sound(np.concatenate([np.zeros(0, np.float32), *self._samples]), SAMPLE_RATE)


@contextlib.contextmanager
def program(server: SoundServer, *words: str | Path) -> Iterator[subprocess.Popen[str]]:
    """The command as a process whose sound goes through the server; it is ended afterwards."""
    with tempfile.TemporaryFile("w+") as errors:
        running = subprocess.Popen(
            [sys.executable, "-m", "assistant", *map(str, words)],
            env=server.environment,
            cwd=ROOT,
            stderr=errors,  # a pipe would fill up: ALSA tells much
            text=True,
        )
        try:
            yield running
        finally:
            running.kill()
            running.wait()
            errors.seek(0)
            assert "Traceback" not in errors.read()
