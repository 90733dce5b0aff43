"""Which recordings of a folder a job has heard already."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.cli.recordings import heard_already
from assistant.journal.clips import digest_of, keep
from assistant.speech import wav


@pytest.fixture
def recordings(tmp_path: Path) -> list[Path]:
    """Three that differ, at a rate that is changed in hearing, and a copy of the first."""
    files = [tmp_path / f"{number}.wav" for number in range(4)]
    for file, seconds in zip(files, (1, 2, 3, 1), strict=True):
        wav.write(file, np.full(22050 * seconds, 0.1, np.float32), 22050)
    return files


def test_it_is_the_digest_under_which_a_clip_is_kept(
    recordings: list[Path], tmp_path: Path
) -> None:
    samples = wav.read(recordings[0])
    assert keep(tmp_path, 1, samples)["sha256"] == digest_of(samples)


@pytest.mark.parametrize(
    ("heard", "count"),
    [
        ("", 0),
        ("0", 1),
        ("01", 2),
        ("0120", 4),  # the copy of the first was heard fourth
        ("x01", 2),  # a microphone was heard before
        ("x", 0),
        ("1", 0),  # of another folder
        ("01x", 0),
        ("01201", 2),  # begun anew
    ],
)
def test_they_are_told_by_their_sound(recordings: list[Path], heard: str, count: int) -> None:
    clips = ["x" if one == "x" else digest_of(wav.read(recordings[int(one)])) for one in heard]
    assert heard_already(recordings, clips) == count


def test_a_broken_recording_was_not_heard(recordings: list[Path]) -> None:
    clips = [digest_of(wav.read(recording)) for recording in recordings[:2]]
    recordings[1].write_bytes(b"RIFF")
    assert heard_already(recordings, clips) == 0
    assert heard_already(recordings, clips[:1]) == 1
