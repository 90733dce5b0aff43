"""The recordings of a folder that a job has heard already."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from assistant.journal.clips import digest_of
from assistant.speech import wav
from assistant.speech.errors import AudioError

__all__ = ["heard_already"]


def heard_already(recordings: Sequence[Path], clips: Sequence[str]) -> int:
    """How many recordings, from the first on, were the last that a job heard.

    They are told by their sound, so that neither what was said at a microphone before nor the
    recordings of another folder count. Where a folder begins with copies of those that were heard
    last, they are taken for these.

    Args:
        recordings: WAV files, in the order in which they are heard.
        clips: SHA-256 of each clip of the job, in its order.
    """
    sounds = [_digest(recording) for recording in recordings[: len(clips)]]
    counts = range(len(sounds), 0, -1)
    return next((count for count in counts if sounds[:count] == list(clips[-count:])), 0)


def _digest(recording: Path) -> str | None:
    try:
        return digest_of(wav.read(recording))
    except AudioError:  # it is told when its turn comes
        return None
