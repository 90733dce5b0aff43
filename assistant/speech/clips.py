"""Ears on a folder of recordings: one WAV file is one reply."""

from __future__ import annotations

from collections import deque
from pathlib import Path

from assistant.language.grammar import Grammar
from assistant.speech import wav
from assistant.speech.ears import Ended, Recogniser, Reply, Spoken
from assistant.speech.errors import AudioError

__all__ = ["ClipEars", "clips_in"]


class ClipEars:
    """Takes the recordings of a folder in the order of their names, each once.

    Args:
        folder: holds files that end in ``.wav``; what it holds is looked up once.
        recogniser: reads them.
        heard: so many of them were heard before, and are passed over.

    Raises:
        AudioError: the folder cannot be read or holds no recording.
    """

    def __init__(self, folder: Path, recogniser: Recogniser, heard: int = 0) -> None:
        self._left = deque(clips_in(folder)[heard:])
        self._recogniser = recogniser

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """The next recording as a reply, at once: `patience` has no effect.

        Raises:
            AudioError: the recording is broken.
        """
        if not self._left:
            return Ended()
        samples = wav.read(self._left.popleft())
        return Spoken(self._recogniser.recognise(samples, grammar), samples)


def clips_in(folder: Path) -> list[Path]:
    """The recordings of a folder, sorted by name; raises AudioError if there are none."""
    try:
        files = sorted(file for file in folder.iterdir() if file.suffix.lower() == ".wav")
    except OSError as error:
        raise AudioError(
            f"{folder}: cannot be read ({error.strerror}); name a folder of WAV files"
        ) from error
    if not files:
        raise AudioError(f"{folder}: holds no WAV file; name a folder of recorded replies")
    return files
