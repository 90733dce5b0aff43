"""The voice: texts said aloud, printed, or kept as files."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Protocol, TextIO

import numpy as np

from assistant.speech import wav
from assistant.speech.errors import VoiceError
from assistant.speech.voice.rendering import Manner, Renderer

__all__ = [
    "FolderVoice",
    "Manner",
    "MuteVoice",
    "Player",
    "PrintedVoice",
    "Renderer",
    "SpokenVoice",
    "Voice",
]


class Voice(Protocol):
    """Says texts to the technician."""

    def say(self, text: str) -> None:
        """Say the text; return when it has been said or was cut off."""


class Player(Protocol):
    """Plays sounds: the loudspeaker, or a stand-in for it."""

    def play(self, sound: wav.Sound) -> None:
        """Play the sound; return when it has been played or was stopped."""

    def play_through(self, sound: wav.Sound) -> None:
        """The same, and no reply stops it or keeps it from being heard."""

    def begin(self, sound: wav.Sound) -> None:
        """Begin to play the sound and return at once; what is played next comes after it."""

    def stop(self) -> None:
        """Cut the sound off."""

    def close(self) -> None:
        """Let go of the device; the next `play` opens it again."""


class PrintedVoice:
    """Prints what it says, one text a line."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def say(self, text: str) -> None:
        """Print the text."""
        print(text, file=self._stream, flush=True)


class MuteVoice:
    """Says nothing, where what is said is shown by something else."""

    def say(self, text: str) -> None:
        """Say nothing."""


class FolderVoice:
    """Keeps what it says as ``0001.wav``, ``0002.wav`` and so on, after any already there.

    `manner` may be exchanged between texts.
    """

    def __init__(self, folder: Path, renderer: Renderer, manner: Manner | None = None) -> None:
        self.folder = folder
        self.manner = manner or Manner()
        self._renderer = renderer

    def say(self, text: str) -> None:
        """Write the text to the next file; a blank text is not said.

        Raises:
            VoiceError: the text cannot be rendered, or the folder cannot be written.
        """
        if not text.strip():
            return
        rendered = self._renderer.render(text, self.manner)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            (self.folder / f"{self._last() + 1:04d}.wav").write_bytes(rendered.read_bytes())
        except OSError as error:
            raise VoiceError(
                f"{self.folder}: speech cannot be kept there ({error.strerror or error}); "
                "name a folder that can be written"
            ) from error

    def _last(self) -> int:
        """The highest number among the files already there."""
        numbers = (file.stem for file in self.folder.glob("*.wav"))
        return max((int(number) for number in numbers if number.isdecimal()), default=0)


class SpokenVoice:
    """Says texts through a loudspeaker; `manner` may be exchanged between texts.

    Its volume is that of all that sounds: tones and ticks are as loud beside the voice as ever.
    """

    def __init__(self, renderer: Renderer, player: Player, manner: Manner | None = None) -> None:
        self.manner = manner or Manner()
        self._renderer = renderer
        self._player = player
        self._kept: dict[str, wav.Sound] = {}

    def say(self, text: str) -> None:
        """Say the text aloud; a blank text is not said.

        Raises:
            VoiceError: the text cannot be rendered.
            DeviceError: the loudspeaker fails.
        """
        if not text.strip():
            return
        self._player.play(wav.load(self._renderer.render(text, self.manner)))

    def keep_ready(self, text: str) -> None:
        """Keep the sound of a text from now on, for `say_kept`; it is as fast as the voice is now.

        Raises:
            VoiceError: the text cannot be rendered.
        """
        normal = replace(self.manner, volume=Manner().volume)
        self._kept[text] = wav.load(self._renderer.render(text, normal))

    def say_kept(self, text: str) -> None:
        """Say a text to its end, whatever is said meanwhile.

        One that is kept ready needs neither the engine nor the disk.

        Raises:
            VoiceError: the text was not kept, and cannot be rendered now.
            DeviceError: the loudspeaker fails.
        """
        if text not in self._kept:
            self.keep_ready(text)
        self._player.play_through(self._as_loud(self._kept[text]))

    def play(self, sound: wav.Sound) -> None:
        """Play a sound that is no speech; raises DeviceError where the loudspeaker fails."""
        self._player.play(self._as_loud(sound))

    def begin(self, sound: wav.Sound) -> None:
        """Begin with a sound that is no speech, and return at once; raises as `play` does."""
        self._player.begin(self._as_loud(sound))

    def close(self) -> None:
        """Let go of the loudspeaker; the next text opens it again."""
        self._player.close()

    def _as_loud(self, sound: wav.Sound) -> wav.Sound:
        """The sound at the volume that the voice has; its peaks may be flattened, as there."""
        return wav.Sound(np.clip(sound.samples * (self.manner.volume / 100), -1.0, 1.0), sound.rate)
