"""The sound of each reply, kept beside the journal and never written over.

A clip's bytes are on the disk under their final name before `keep` answers; the journal's entry
then names the file and its SHA-256. A power cut between the two leaves a clip that no entry names:
`next_number` steps over it.
"""

from __future__ import annotations

import io
import os
import re
import wave
from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assistant.journal.canonical import digest
from assistant.journal.chain import Level, Problem
from assistant.journal.entry import Entry
from assistant.journal.store import JournalError, sync_folder, write_all

__all__ = [
    "FOLDER",
    "SAMPLE_RATE",
    "SOUNDLESS",
    "check",
    "digest_of",
    "digests",
    "fault_of",
    "keep",
    "load",
    "next_number",
]

FOLDER = "clips"

SAMPLE_RATE = 16_000
"""Hertz."""

SOUNDLESS = frozenset({"typed", "pressed"})
"""Engines whose replies have no sound; whatever was heard by another has a clip."""

_NAME = re.compile(rf"{FOLDER}/(\d{{4,9}})\.wav", re.ASCII)
_LOST = "look for it in a copy of the job folder; the entry itself still stands"
_UNNAMED = "a power cut can leave one; lines that were cut off leave theirs: compare the kept root"
_CHANGED = "put the clip back from a copy; do not rely on this one"
_WITHOUT = "keep the folder as it is, and compare it with a copy from before"


def keep(folder: Path, number: int, samples: NDArray[np.float32]) -> dict[str, str]:
    """Write a clip as ``clips/NNNN.wav`` in the job's folder.

    Args:
        folder: the job's folder, whose journal this process holds.
        number: number of the clip, from 1; see `next_number`.
        samples: mono, -1 to 1 (louder is clipped), 16 kHz, shape (n,).

    Returns:
        The value of the entry's field `clip`: `file`, relative to the folder, and `sha256`.

    Raises:
        ValueError: the samples are not one row of finite numbers, or the number is below 1.
        JournalError: there is such a clip already, or it cannot be written.
    """
    if number < 1:
        raise ValueError(f"clips are numbered from 1, not {number}")
    name = f"{FOLDER}/{number:04d}.wav"
    data = _wav(samples)
    file = folder / name
    try:
        file.parent.mkdir(exist_ok=True)
        if file.exists():
            raise JournalError(file, "is there already", "take the next free number for the clip")
        _write(file, data)
        sync_folder(folder)
    except OSError as error:
        what = f"the clip could not be kept ({error.strerror or error})"
        remedy = "make room on the disk and see that the folder can be written"
        raise JournalError(file, what, remedy) from error
    return {"file": name, "sha256": digest(data)}


def next_number(folder: Path) -> int:
    """One more than the highest number of a clip in the job's folder; 1 where there is none."""
    numbers = [int(match[1]) for name in _present(folder) if (match := _NAME.fullmatch(name))]
    return max(numbers, default=0) + 1


def check(folder: Path, entries: Iterable[Entry]) -> list[Problem]:
    """What is wrong with the clips of a job, by the line of each.

    A clip that is missing or not as it was, one that two lines name, and a reply that was heard
    without one are errors; a clip that no entry names is a notice.
    """
    kept = list(entries)
    problems = [problem for entry in kept if (problem := fault_of(folder, entry)) is not None]
    problems += _named_twice(kept)
    last = max((entry.seq for entry in kept), default=1)
    unnamed = sorted(_present(folder) - {name for _, name in _named(kept)})
    problems += [Problem(last, *_left_over(name), Level.NOTICE) for name in unnamed]
    return problems


def fault_of(folder: Path, entry: Entry) -> Problem | None:
    """What is wrong just now with the clip of one entry; None where it is as it was kept."""
    clip = entry.body.get("clip")
    if clip is not None:
        fault = _fault(folder, clip)
        return None if fault is None else Problem(entry.seq, *fault)
    match entry.body.get("heard"):
        case {"engine": str(engine)} if engine not in SOUNDLESS:
            return Problem(entry.seq, f"it was heard by {engine}, and its clip is gone", _WITHOUT)
    return None


def _named_twice(entries: Iterable[Entry]) -> Iterator[Problem]:
    lines: dict[str, list[int]] = defaultdict(list)
    for line, name in _named(entries):
        lines[name].append(line)
    for name, naming in lines.items():
        for line in naming if len(naming) > 1 else ():
            other = next(one for one in naming if one != line)
            yield Problem(line, f"its clip {name} is that of line {other} too", _CHANGED)


def load(folder: Path, entries: Iterable[Entry]) -> dict[str, bytes]:
    """File name → bytes of every clip that the entries name and that is as it was."""
    return {
        clip["file"]: (folder / clip["file"]).read_bytes()
        for entry in entries
        if (clip := entry.body.get("clip")) is not None and _fault(folder, clip) is None
    }


def digests(entries: Iterable[Entry]) -> Iterator[str]:
    """The SHA-256 of every clip that the entries name, in their order."""
    return (entry.clip[1] for entry in entries if entry.clip is not None)


def digest_of(samples: NDArray[np.float32]) -> str:
    """The SHA-256 that a clip of these samples has; arguments and errors as of `keep`."""
    return digest(_wav(samples))


def _wav(samples: NDArray[np.float32]) -> bytes:
    if samples.ndim != 1 or not np.isfinite(samples).all():
        raise ValueError("a clip is one row of finite samples")
    whole = np.round(np.clip(samples, -1.0, 1.0) * 32767.0).astype("<i2")
    sink = io.BytesIO()
    with wave.open(sink, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(SAMPLE_RATE)
        file.writeframes(whole.tobytes())
    return sink.getvalue()


def _write(file: Path, data: bytes) -> None:
    """Write under another name first: the final name never holds half a clip."""
    part = file.with_name(file.name + ".part")
    try:
        handle = os.open(part, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o644)
        try:
            write_all(handle, data)
            os.fsync(handle)
        finally:
            os.close(handle)
        part.rename(file)
        sync_folder(file.parent)
    except OSError:
        part.unlink(missing_ok=True)
        raise


def _present(folder: Path) -> set[str]:
    return {f"{FOLDER}/{file.name}" for file in (folder / FOLDER).glob("*.wav")}


def _named(entries: Iterable[Entry]) -> Iterator[tuple[int, str]]:
    """The lines that name a clip, and the name of its file."""
    for entry in entries:
        match entry.body.get("clip"):
            case {"file": str(name)}:
                yield entry.seq, name


def _fault(folder: Path, clip: Any) -> tuple[str, str] | None:
    """What is wrong with the clip of an entry; None where it is as it was."""
    match clip:
        case {"file": str(name), "sha256": str(expected)} if _NAME.fullmatch(name):
            try:
                data = (folder / name).read_bytes()
            except FileNotFoundError:
                return f"its clip {name} is missing", _LOST
            except OSError as error:
                return f"its clip {name} cannot be read ({error.strerror or error})", _LOST
            return None if digest(data) == expected else (f"its clip {name} was changed", _CHANGED)
    return f"its field 'clip' names no clip of this job: {clip!r}", _LOST


def _left_over(name: str) -> tuple[str, str]:
    return f"no entry names the clip {name}", _UNNAMED
