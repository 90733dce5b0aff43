"""Clips: kept whole, never written over, and missed when they are gone or changed."""

from __future__ import annotations

import errno
import hashlib
import io
import os
import wave
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from assistant.journal import clips
from assistant.journal.chain import Level
from assistant.journal.entry import Entry
from assistant.journal.store import JournalError

TONE = (0.5 * np.sin(np.arange(4_000) * 0.2)).astype(np.float32)


def entry(seq: int, clip: Any) -> Entry:
    return Entry(seq, "2031-05-14T08:02:11.250Z", "0" * 64, {"kind": "heard", "clip": clip})


def test_a_clip_is_a_16_bit_mono_wav_at_16_khz(tmp_path: Path) -> None:
    kept = clips.keep(tmp_path, 7, TONE)
    data = (tmp_path / "clips" / "0007.wav").read_bytes()
    assert kept == {"file": "clips/0007.wav", "sha256": hashlib.sha256(data).hexdigest()}
    with wave.open(io.BytesIO(data)) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, 16_000)
        samples = np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32767
    # Rounding to 16 bits errs by at most half a step.
    assert np.abs(samples - TONE).max() <= 0.5 / 32767 + 1e-7


def test_what_is_too_loud_is_clipped_not_wrapped(tmp_path: Path) -> None:
    clips.keep(tmp_path, 1, np.array([2.0, -2.0, 1.0, -1.0], np.float32))
    with wave.open(str(tmp_path / "clips" / "0001.wav")) as file:
        samples = np.frombuffer(file.readframes(4), "<i2")
    assert samples.tolist() == [32767, -32767, 32767, -32767]


def test_a_clip_is_never_written_over(tmp_path: Path) -> None:
    kept = clips.keep(tmp_path, 1, TONE)
    with pytest.raises(JournalError, match=r"0001\.wav: is there already"):
        clips.keep(tmp_path, 1, -TONE)
    assert clips.check(tmp_path, [entry(1, kept)]) == []


def test_the_next_number_steps_over_what_is_there(tmp_path: Path) -> None:
    assert clips.next_number(tmp_path) == 1
    for number in (1, 4, 12_345):
        clips.keep(tmp_path, number, TONE)
        assert clips.next_number(tmp_path) == number + 1
    (tmp_path / "clips" / "notes.wav").touch()
    assert clips.next_number(tmp_path) == 12_346


@pytest.mark.parametrize("call", ["write", "fsync"])
def test_a_full_disk_leaves_no_half_clip(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    def fail(*_arguments: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        patch.setattr(os, call, fail)
        with pytest.raises(JournalError, match=r"No space left on device.*make room"):
            clips.keep(tmp_path, 1, TONE)
    assert list((tmp_path / "clips").iterdir()) == []
    clips.keep(tmp_path, 1, TONE)


@pytest.mark.parametrize(
    ("number", "samples"),
    [
        (0, TONE),
        (1, TONE.reshape(2, -1)),
        (1, np.array([np.nan], np.float32)),
        (1, np.array([np.inf], np.float32)),
    ],
    ids=["number", "two rows", "nan", "infinity"],
)
def test_what_is_no_clip_is_refused(tmp_path: Path, number: int, samples: Any) -> None:
    with pytest.raises(ValueError):
        clips.keep(tmp_path, number, samples)
    assert not (tmp_path / "clips").exists()


def test_missing_and_changed_clips_are_named_with_their_line(tmp_path: Path) -> None:
    entries = [entry(seq, clips.keep(tmp_path, seq, TONE * seq / 9)) for seq in (1, 2, 3)]
    assert clips.check(tmp_path, entries) == []
    (tmp_path / "clips" / "0001.wav").unlink()
    with (tmp_path / "clips" / "0003.wav").open("r+b") as file:
        file.seek(100)
        file.write(b"\x7f")
    found = [(problem.line, problem.what) for problem in clips.check(tmp_path, entries)]
    assert found == [
        (1, "its clip clips/0001.wav is missing"),
        (3, "its clip clips/0003.wav was changed"),
    ]
    assert clips.load(tmp_path, entries).keys() == {"clips/0002.wav"}


def test_two_exchanged_clips_show(tmp_path: Path) -> None:
    entries = [entry(seq, clips.keep(tmp_path, seq, TONE * seq / 9)) for seq in (1, 2)]
    first, second = (tmp_path / "clips" / f"000{seq}.wav" for seq in (1, 2))
    first.rename(tmp_path / "aside")
    second.rename(first)
    (tmp_path / "aside").rename(second)
    assert [problem.line for problem in clips.check(tmp_path, entries)] == [1, 2]


def test_a_clip_that_no_entry_names_is_a_notice(tmp_path: Path) -> None:
    clips.keep(tmp_path, 1, TONE)
    (problem,) = clips.check(tmp_path, [])
    assert problem.level is Level.NOTICE
    assert "clips/0001.wav" in problem.what


@pytest.mark.parametrize(
    "clip",
    [
        {"file": "../secret.wav", "sha256": hashlib.sha256(b"secret").hexdigest()},
        {"file": "clips/../../secret.wav", "sha256": hashlib.sha256(b"secret").hexdigest()},
        {"file": "clips/0001.wav"},
        {"sha256": "00"},
        "clips/0001.wav",
        {},
        7,
    ],
)
def test_a_clip_is_never_looked_for_outside_its_folder(tmp_path: Path, clip: Any) -> None:
    (tmp_path / "secret.wav").write_bytes(b"secret")
    job = tmp_path / "job"
    (job / "clips").mkdir(parents=True)
    (problem,) = clips.check(job, [entry(5, clip)])
    assert problem.line == 5
    assert clips.load(job, [entry(5, clip)]) == {}


def test_an_entry_may_have_no_clip(tmp_path: Path) -> None:
    assert clips.check(tmp_path, [entry(5, None)]) == []
    assert clips.load(tmp_path, [entry(5, None)]) == {}


def test_a_clip_that_two_lines_name_is_an_error_of_both(tmp_path: Path) -> None:
    clip = clips.keep(tmp_path, 1, TONE)
    problems = clips.check(tmp_path, [entry(1, clip), entry(2, clip)])
    assert [(problem.line, problem.level) for problem in problems] == [
        (1, Level.ERROR),
        (2, Level.ERROR),
    ]
    assert "clips/0001.wav is that of line 2 too" in problems[0].what


@pytest.mark.parametrize(("engine", "faults"), [("moonshine", 1), ("typed", 0), ("pressed", 0)])
def test_what_was_heard_has_a_clip_and_what_was_typed_or_pressed_has_none(
    tmp_path: Path, engine: str, faults: int
) -> None:
    body = {"kind": "heard", "heard": {"engine": engine}, "clip": None}
    told = Entry(5, "2031-05-14T08:02:11.250Z", "0" * 64, body)
    found = clips.check(tmp_path, [told])
    assert [problem.line for problem in found] == [5] * faults
