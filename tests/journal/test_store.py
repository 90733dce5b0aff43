"""The journal's file: what is on the disk, and when it cannot be."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from assistant.journal import chain, store
from assistant.journal.entry import Entry, opening
from assistant.journal.store import FILE_NAME, Journal, JournalError
from assistant.journal.tree import root
from tests.cli.command import TOO_LONG

OPENED = opening({"work order": "KF-2207"}, {}, {"tag": "KF-07"}, {"name": "set"}, "0.1.0")


def stamp(second: int) -> str:
    return f"2031-05-14T08:{second // 60:02d}:{second % 60:02d}.000Z"


def heard(text: str) -> dict[str, Any]:
    return {"kind": "heard", "heard": {"text": text}}


def write(folder: Path, *texts: str) -> list[Entry]:
    with Journal.create(folder) as journal:
        journal.append(stamp(0), OPENED)
        for second, text in enumerate(texts, 1):
            journal.append(stamp(second), heard(text))
        return list(journal.entries)


def content(folder: Path) -> bytes:
    return (folder / FILE_NAME).read_bytes()


def test_what_was_appended_is_read_again(tmp_path: Path) -> None:
    entries = write(tmp_path / "job" / "of" / "today", "yes", "no")
    folder = tmp_path / "job" / "of" / "today"
    assert list(store.read(folder)) == entries
    assert content(folder) == b"".join(entry.line + b"\n" for entry in entries)
    assert chain.check(store.read_lines(folder)) == []


def test_the_root_is_over_the_lines_of_the_file(tmp_path: Path) -> None:
    # RFC 6962 §2.1, on the file's lines without their newlines.
    write(tmp_path, "yes", "no")
    with Journal.open(tmp_path) as journal:
        before = journal.root
        assert before == root(content(tmp_path).splitlines())
        journal.append(stamp(9), heard("done"))
        assert journal.root == root(content(tmp_path).splitlines()) != before


def test_appending_after_reopening_continues_the_chain(tmp_path: Path) -> None:
    before = write(tmp_path, "yes")
    with Journal.open(tmp_path) as journal:
        assert list(journal.entries) == before
        assert journal.torn is None
        added = journal.append(stamp(5), heard("no"))
        assert journal.last_hash == added.hash
    assert (added.seq, added.previous) == (3, before[-1].hash)
    assert chain.check(store.read_lines(tmp_path)) == []


def test_an_entry_is_synced_before_append_answers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sizes: list[int] = []
    real = os.fsync

    def watched(handle: int) -> None:
        sizes.append(os.fstat(handle).st_size)
        real(handle)

    with Journal.create(tmp_path) as journal:
        monkeypatch.setattr(os, "fsync", watched)
        entry = journal.append(stamp(0), OPENED)
        assert sizes == [len(entry.line) + 1]


def test_creating_brings_the_name_to_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[str] = []
    real = os.fsync

    def watched(handle: int) -> None:
        synced.append(str(Path(f"/proc/self/fd/{handle}").readlink()))
        real(handle)

    monkeypatch.setattr(os, "fsync", watched)
    Journal.create(tmp_path / "a" / "b").close()
    assert {str(tmp_path / "a" / "b"), str(tmp_path / "a"), str(tmp_path)} <= set(synced)


def test_a_journal_is_never_created_over_another(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    before = content(tmp_path)
    with pytest.raises(JournalError, match=r"journal\.jsonl: is there already; continue"):
        Journal.create(tmp_path)
    assert content(tmp_path) == before


def test_opening_where_there_is_none_says_so(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match=r"No such file.*check the folder's name"):
        Journal.open(tmp_path)
    with pytest.raises(JournalError, match="No such file"):
        store.read(tmp_path)


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match="the job's folder cannot be made"):
        Journal.create(tmp_path / TOO_LONG)


def test_a_file_in_the_folders_place_is_an_error_of_ours(tmp_path: Path) -> None:
    (tmp_path / "job").write_text("not a folder")
    for attempt in (Journal.create, Journal.open, store.read):
        with pytest.raises(JournalError):
            attempt(tmp_path / "job")


# One process at a time.

OTHER = """
import sys
from pathlib import Path
from assistant.journal.store import Journal, JournalError
try:
    journal = Journal.open(Path(sys.argv[1]))
except JournalError as error:
    print(error)
    sys.exit(7)
print("held", flush=True)
sys.stdin.read()
"""


def other(folder: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", OTHER, str(folder)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(store.__file__).parents[2],
    )


def test_a_second_process_is_refused_while_the_first_holds_the_job(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    with Journal.open(tmp_path) as journal:
        second = other(tmp_path)
        said, _ = second.communicate(timeout=30)
        assert second.returncode == 7
        assert f"{tmp_path / FILE_NAME}: another gloveside is at work on this job; " in said
        journal.append(stamp(9), heard("no"))
    assert len(store.read(tmp_path)) == 3


def test_a_killed_process_lets_go_of_the_job(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    holder = other(tmp_path)
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    with pytest.raises(JournalError, match="another gloveside is at work on this job"):
        Journal.open(tmp_path)
    holder.send_signal(signal.SIGKILL)
    holder.communicate(timeout=30)
    Journal.open(tmp_path).close()


def test_reading_needs_no_lock(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    with Journal.open(tmp_path):
        assert len(store.read(tmp_path)) == 2


# Torn and broken files.


@pytest.mark.parametrize("left", [1, 30, -1], ids=["one byte", "half", "all but the newline"])
def test_a_torn_last_line_is_set_aside_and_reported(tmp_path: Path, left: int) -> None:
    write(tmp_path, "yes", "no")
    lines = store.read_lines(tmp_path)
    piece = lines[-1][:left]
    (tmp_path / FILE_NAME).write_bytes(b"".join(lines[:-1]) + piece)
    assert len(store.read(tmp_path)) == 2
    with Journal.open(tmp_path) as journal:
        assert journal.torn == tmp_path / "journal.torn-1"
        assert journal.torn.read_bytes() == piece
        assert len(journal.entries) == 2
        journal.append(stamp(9), heard("no"))
    assert chain.check(store.read_lines(tmp_path)) == []


def test_an_earlier_torn_piece_is_kept(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    for number, piece in enumerate([b"first", b"second", b"third"], 1):
        with (tmp_path / FILE_NAME).open("ab") as file:
            file.write(piece)
        with Journal.open(tmp_path) as journal:
            assert journal.torn == tmp_path / f"journal.torn-{number}"
    kept = [(tmp_path / f"journal.torn-{number}").read_bytes() for number in (1, 2, 3)]
    assert kept == [b"first", b"second", b"third"]


@pytest.mark.parametrize("data", [b"", b'{"kind":"ope'], ids=["empty", "first line torn"])
def test_a_journal_whose_first_entry_was_never_written_can_be_begun(
    tmp_path: Path, data: bytes
) -> None:
    (tmp_path / FILE_NAME).write_bytes(data)
    with Journal.open(tmp_path) as journal:
        assert journal.entries == ()
        assert journal.last_hash is None
        assert journal.append(stamp(0), OPENED).seq == 1


def test_a_broken_chain_names_the_line_and_leaves_the_file_alone(tmp_path: Path) -> None:
    write(tmp_path, "yes", "no", "done")
    spoiled = content(tmp_path).replace(b'"yes"', b'"nay"') + b"torn"
    (tmp_path / FILE_NAME).write_bytes(spoiled)
    for attempt in (Journal.open, store.read):
        with pytest.raises(JournalError, match=r"journal\.jsonl:3: does not follow line 2") as seen:
            attempt(tmp_path)
        assert seen.value.line == 3
        assert seen.value.remedy in str(seen.value)
    assert content(tmp_path) == spoiled
    assert not list(tmp_path.glob("journal.torn-*"))


def test_a_clock_set_back_does_not_close_the_job(tmp_path: Path) -> None:
    write(tmp_path, "yes", "no")
    with Journal.open(tmp_path) as journal:
        journal.append(stamp(0), heard("done"))
    with Journal.open(tmp_path) as journal:
        assert len(journal.entries) == 4


# A disk that fails. A file's rights do not hinder a privileged user, so the calls fail here.


def failing(error: int) -> Callable[..., Any]:
    def fail(*_arguments: object, **_named: object) -> Any:
        raise OSError(error, os.strerror(error))

    return fail


def short_then_full(room: int) -> Callable[[int, Any], int]:
    """A write that takes a few bytes at a time, until the disk is full."""
    real = os.write
    left = room

    def write_some(handle: int, data: Any) -> int:
        nonlocal left
        if left == 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        taken = real(handle, bytes(data)[: min(7, left)])
        left -= taken
        return taken

    return write_some


@pytest.mark.parametrize("room", [0, 1, 25])
def test_a_full_disk_leaves_whole_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, room: int
) -> None:
    write(tmp_path, "yes")
    before = content(tmp_path)
    with Journal.open(tmp_path) as journal:
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", short_then_full(room))
            with pytest.raises(JournalError, match=r"No space left on device.*make room"):
                journal.append(stamp(7), heard("no"))
        assert content(tmp_path) == before
        assert len(journal.entries) == 2
        journal.append(stamp(8), heard("no"))
    assert chain.check(store.read_lines(tmp_path)) == []
    assert len(store.read(tmp_path)) == 3


def test_a_write_in_pieces_is_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "write", short_then_full(10**6))
    write(tmp_path, "yes", "no")
    assert chain.check(store.read_lines(tmp_path)) == []


@pytest.mark.parametrize("error", [errno.EIO, errno.ENOSPC, errno.EDQUOT])
def test_a_failed_sync_takes_the_entry_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: int
) -> None:
    write(tmp_path, "yes")
    before = content(tmp_path)
    with Journal.open(tmp_path) as journal:
        monkeypatch.setattr(os, "fsync", failing(error))
        with pytest.raises(JournalError, match="the entry could not be written"):
            journal.append(stamp(7), heard("no"))
        assert content(tmp_path) == before
        # The disk did not confirm the cut either: nothing more may be written to it.
        with pytest.raises(JournalError, match="is closed"):
            journal.append(stamp(8), heard("no"))


def test_an_interrupt_takes_the_entry_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, "yes")
    before = content(tmp_path)
    real = os.fsync
    calls: list[int] = []

    def interrupted(handle: int) -> None:
        calls.append(handle)
        if len(calls) == 1:
            raise KeyboardInterrupt
        real(handle)

    with Journal.open(tmp_path) as journal:
        monkeypatch.setattr(os, "fsync", interrupted)
        with pytest.raises(KeyboardInterrupt):
            journal.append(stamp(7), heard("no"))
        assert content(tmp_path) == before


@pytest.mark.parametrize("error", [errno.EROFS, errno.EACCES, errno.ENOSPC])
def test_a_folder_that_cannot_be_written_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: int
) -> None:
    write(tmp_path / "old", "yes")
    monkeypatch.setattr(os, "open", failing(error))
    for attempt, folder in ((Journal.create, "new"), (Journal.open, "old")):
        with pytest.raises(JournalError, match=os.strerror(error)) as seen:
            attempt(tmp_path / folder)
        assert str(tmp_path / folder) in str(seen.value)


def test_a_torn_piece_that_cannot_be_kept_is_not_cut(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(tmp_path, "yes")
    with (tmp_path / FILE_NAME).open("ab") as file:
        file.write(b"torn")
    before = content(tmp_path)
    monkeypatch.setattr(os, "fsync", failing(errno.ENOSPC))
    with pytest.raises(JournalError, match="cannot be set aside"):
        Journal.open(tmp_path)
    assert content(tmp_path) == before


def test_lines_written_by_something_else_stop_the_job(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    with Journal.open(tmp_path) as journal:
        with (tmp_path / FILE_NAME).open("ab") as file:
            file.write(b"hello\n")
        with pytest.raises(JournalError, match="something else wrote to it"):
            journal.append(stamp(7), heard("no"))
    assert content(tmp_path).endswith(b"hello\n")


def test_a_body_that_is_no_entry_leaves_the_file_alone(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    before = content(tmp_path)
    with Journal.open(tmp_path) as journal:
        for body in ({}, {"kind": "heard", "x": float("inf")}, {"kind": "heard", "seq": 1}):
            with pytest.raises(ValueError):
                journal.append(stamp(7), body)
        with pytest.raises(ValueError):
            journal.append("yesterday", heard("no"))
    assert content(tmp_path) == before


def test_a_closed_journal_says_so(tmp_path: Path) -> None:
    write(tmp_path, "yes")
    journal = Journal.open(tmp_path)
    journal.close()
    journal.close()
    with pytest.raises(JournalError, match="is closed; open the job again"):
        journal.append(stamp(7), heard("no"))
