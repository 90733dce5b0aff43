"""Texts rendered to WAV files, which are kept: a prompt is rendered once and then only played."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import threading
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from types import TracebackType
from typing import Self

from assistant.speech import wav
from assistant.speech.errors import AudioError, VoiceError
from assistant.speech.voice.process import WORKER, VoiceProcess

__all__ = ["FASTEST", "SOFTEST", "Manner", "Renderer"]

FASTEST = 250
"""Words a minute that can still be followed with the mind on something else (common practice, no
source)."""

SOFTEST = 40
"""Percent of the volume: a caution that is asked to be softer still has to be heard."""


@dataclass(frozen=True, slots=True)
class Manner:
    """How texts are said.

    Args:
        voice: espeak-ng's name of the voice (``gmw/en-us``, ``gmw/en``), with a variant after a
            plus sign (``gmw/en-us+f3``).
        rate: speed [words/min], 80 to 450 (limits of espeak-ng's ``espeakRATE``).
        volume: in percent of the engine's normal, 0 to 200 (``espeakVOLUME``; near 200 the
            peaks may be flattened).
    """

    voice: str = "gmw/en-us"
    rate: int = 165
    volume: int = 100

    def __post_init__(self) -> None:
        if not 80 <= self.rate <= 450:
            raise ValueError(f"a voice speaks 80 to 450 words a minute, not {self.rate}")
        if not 0 <= self.volume <= 200:
            raise ValueError(f"a voice has 0 to 200 percent of its volume, not {self.volume}")

    def slower(self) -> Manner:
        """The same voice a sixth slower, at least 80 words a minute."""
        return replace(self, rate=max(80, round(self.rate * 5 / 6)))

    def faster(self) -> Manner:
        """The same voice a fifth faster, at most `FASTEST` words a minute."""
        return replace(self, rate=min(FASTEST, round(self.rate * 6 / 5)))

    def louder(self) -> Manner:
        """The same voice with a quarter more volume, at most 200 percent."""
        return replace(self, volume=min(200, round(self.volume * 5 / 4)))

    def softer(self) -> Manner:
        """The same voice with a fifth less volume, at least `SOFTEST` percent."""
        return replace(self, volume=max(SOFTEST, round(self.volume * 4 / 5)))


class Renderer:
    """Turns texts into WAV files through one worker process, and keeps them.

    Args:
        folder: where the files are kept; made if it does not exist.
        patience: how long one text may take before the worker is held to hang [s].
        command: the worker's command line, see `process`.
    """

    def __init__(
        self, folder: Path, patience: float = 20.0, command: tuple[str, ...] = WORKER
    ) -> None:
        self.folder = folder
        self._process = VoiceProcess(command, patience)
        self._lock = threading.Lock()

    def render(self, text: str, manner: Manner | None = None) -> Path:
        """The WAV file in which the text is said; rendered only if not yet kept.

        Raises:
            VoiceError: there is no espeak-ng, no such voice, the folder cannot be written, the
                text is empty, or the worker failed twice.
        """
        manner = manner or Manner()
        text = " ".join(text.replace("\0", " ").split())
        if not text:
            raise VoiceError("there is nothing to say: the text is empty")
        file = self.folder / f"{_key(text, manner)}.wav"
        with self._lock:
            if not _kept_whole(file):
                self._make(text, manner, file)
        return file

    def close(self) -> None:
        """End the worker; a later `render` starts another."""
        with self._lock:
            self._process.end()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _make(self, text: str, manner: Manner, file: Path) -> None:
        """Render to a file beside, and rename it when it is whole and on the disk.

        Before that a power cut could leave zeros under its name: silence in place of a prompt.
        """
        part = file.with_suffix(f".{os.getpid()}.part")
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            part.touch()
            self._ask_twice(text, manner, part)
            _bring_to_disk(part)
            part.replace(file)
        except OSError as error:
            raise VoiceError(
                f"{self.folder}: rendered speech cannot be kept there ({error.strerror or error}); "
                "free some space, or allow writing to it"
            ) from error
        finally:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)

    def _ask_twice(self, text: str, manner: Manner, part: Path) -> None:
        """Ask the worker, and a fresh one if the first died or left no whole file."""
        request = {"text": text, "file": str(part), **asdict(manner)}
        for _ in range(2):
            reply = self._process.ask(request)
            if "error" in reply:
                raise VoiceError(
                    f"the voice {manner.voice} failed ({reply['error']}): "
                    "choose another, for example gmw/en-us"
                )
            if reply and _whole(part):
                return
            self._process.end()
        raise VoiceError(
            f"the voice stopped or hung while it rendered {text!r}; "
            "try again, or work with the voice off"
        )


def _key(text: str, manner: Manner) -> str:
    """What a rendered text is kept under."""
    identity = json.dumps([text, asdict(manner)])
    return hashlib.sha256(identity.encode()).hexdigest()[:32]


def _bring_to_disk(file: Path) -> None:
    with file.open("rb+") as written:
        os.fsync(written.fileno())


def _kept_whole(file: Path) -> bool:
    """Whether a file can be played that was rendered before.

    One whose second half is zeros was cut off by a power cut, as far as can be told; so seems a
    single letter with its pause, and is rendered each time.
    """
    try:
        samples = wav.load(file).samples
    except AudioError:
        return False
    return bool(samples[len(samples) // 2 :].any())


def _whole(file: Path) -> bool:
    """Whether a file that was just rendered is there and complete."""
    try:
        return wav.seconds(file) > 0
    except AudioError:
        return False
