"""The journal's file: written so that what was acted on is on the disk.

An entry is on the disk (write, then fsync) before `Journal.append` answers, and the program acts
on it only then. One process at a time holds the file, by an advisory lock (flock). The file is
only ever appended to; what is taken off its end is a line that was never wholly written, and when
that is found on opening, it is kept beside the journal.

Limits: flock binds processes of one machine and may not bind over a network share; the object is
for one thread.
"""

from __future__ import annotations

import contextlib
import fcntl
import itertools
import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from assistant.journal import chain
from assistant.journal.entry import Entry
from assistant.journal.tree import root

__all__ = ["FILE_NAME", "Journal", "JournalError", "read", "read_lines", "sync_folder", "write_all"]

FILE_NAME = "journal.jsonl"


class JournalError(Exception):
    """The journal cannot be opened, read or written.

    Args:
        file: the file or folder that it is about.
        what: what is wrong.
        remedy: what to do about it.
        line: number of the line, where it is about one.
    """

    def __init__(self, file: Path, what: str, remedy: str, line: int | None = None) -> None:
        self.file = file
        self.what = what
        self.remedy = remedy
        self.line = line
        place = f"{file}:{line}" if line else str(file)
        super().__init__(f"{place}: {what}; {remedy}")


class Journal:
    """A job's journal, held for writing by this process alone.

    `torn` is the file to which a torn last line was moved on opening, or None.
    """

    def __init__(
        self, file: Path, handle: int, entries: Sequence[Entry] = (), torn: Path | None = None
    ) -> None:
        """Use `create` or `open`: they lock and check what this takes for granted."""
        self.file = file
        self.torn = torn
        self._handle: int | None = handle
        self._size = os.fstat(handle).st_size
        self._entries = list(entries)

    @classmethod
    def create(cls, folder: Path) -> Self:
        """Start a journal in a folder, which is made where it is missing.

        Raises:
            JournalError: there is a journal already, or the folder cannot be written.
        """
        file = folder / FILE_NAME
        _make(folder)
        try:
            handle = os.open(file, os.O_CREAT | os.O_EXCL | os.O_RDWR | os.O_APPEND, 0o644)
        except FileExistsError:
            remedy = "continue that job, or choose another folder"
            raise JournalError(file, "is there already", remedy) from None
        except OSError as error:
            raise _cannot(error, file, "cannot be created") from error
        with _closed_on_error(handle):
            _lock(handle, file)
            _sync_both(handle, file)
            return cls(file, handle)

    @classmethod
    def open(cls, folder: Path) -> Self:
        """Open a job's journal to continue it.

        A torn last line is moved to ``journal.torn-1``, -2 … An empty file, left by a power cut
        before the first entry, opens as a journal without entries.

        Raises:
            JournalError: there is none, another process holds it, its chain is broken, or it
                cannot be read or written. The file is then as it was before.
        """
        file = folder / FILE_NAME
        try:
            handle = os.open(file, os.O_RDWR | os.O_APPEND)
        except OSError as error:
            raise _cannot(error, file, "cannot be opened for writing") from error
        with _closed_on_error(handle):
            _lock(handle, file)
            lines = _lines(file)
            whole = [line for line in lines if line.endswith(b"\n")]
            entries = _require_sound(file, whole)
            torn = _set_aside(handle, file, lines[-1]) if len(whole) < len(lines) else None
            return cls(file, handle, entries, torn)

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every entry, the first one first."""
        return tuple(self._entries)

    @property
    def last_hash(self) -> str | None:
        """SHA-256 of the last line; None before the first entry."""
        return self._entries[-1].hash if self._entries else None

    @property
    def root(self) -> str:
        """The root of the hash tree over every line; see `tree`."""
        return root(entry.line for entry in self._entries)

    def append(self, time: str, body: Mapping[str, Any]) -> Entry:
        """Write one entry; when this answers, it is on the disk.

        Args:
            time: as `entry.timestamp` writes it.
            body: `kind` and more, JSON values.

        Raises:
            ValueError: no entry can be made of these.
            JournalError: it could not be written. Nothing of it is left in the file, and the
                journal can be appended to again once the cause is gone.
        """
        handle = self._require_ready()
        last = self._entries[-1].line if self._entries else None
        entry = chain.link(last, len(self._entries) + 1, time, body)
        line = entry.line + b"\n"
        try:
            write_all(handle, line)
            os.fsync(handle)
        except BaseException as error:
            self._take_back(handle)
            if isinstance(error, OSError):
                raise _cannot(error, self.file, "the entry could not be written") from error
            raise
        self._size += len(line)
        self._entries.append(entry)
        return entry

    def close(self) -> None:
        """Let go of the file and its lock; closing twice is harmless."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _require_ready(self) -> int:
        if self._handle is None:
            raise JournalError(self.file, "is closed", "open the job again")
        if os.fstat(self._handle).st_size != self._size:
            what = "something else wrote to it while this job was running"
            raise JournalError(self.file, what, "stop that, then verify the job")
        return self._handle

    def _take_back(self, handle: int) -> None:
        """Cut off what was partly written; where even that fails, write no more."""
        try:
            os.ftruncate(handle, self._size)
            os.fsync(handle)
        except OSError:
            self.close()


def read_lines(folder: Path) -> list[bytes]:
    """The lines of a job's journal, each with its newline, unjudged and without a lock.

    Raises:
        JournalError: the file is missing or cannot be read.
    """
    return _lines(folder / FILE_NAME)


def read(folder: Path) -> tuple[Entry, ...]:
    """The entries of a job's journal, to look at; a torn last line is left out.

    Raises:
        JournalError: the file is missing, cannot be read, or its chain is broken.
    """
    whole = [line for line in read_lines(folder) if line.endswith(b"\n")]
    return _require_sound(folder / FILE_NAME, whole)


def write_all(handle: int, data: bytes) -> None:
    """Write all of the data, in as many pieces as the system asks for."""
    left = memoryview(data)
    while left:
        left = left[os.write(handle, left) :]


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk: a new file's name is not there before that."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _make(folder: Path) -> None:
    try:
        made = [place for place in (folder, *folder.parents) if not place.exists()]
        folder.mkdir(parents=True, exist_ok=True)
        for place in made:
            sync_folder(place.parent)
    except OSError as error:
        raise _cannot(error, folder, "the job's folder cannot be made") from error


def _lines(file: Path) -> list[bytes]:
    try:
        return chain.split_lines(file.read_bytes())
    except OSError as error:
        raise _cannot(error, file, "cannot be read") from error


def _require_sound(file: Path, whole: Sequence[bytes]) -> tuple[Entry, ...]:
    if not whole:
        return ()
    entries, problems = chain.walk(whole)
    for problem in problems:
        if problem.level is chain.Level.ERROR:
            raise JournalError(file, problem.what, problem.remedy, problem.line)
    return entries


def _lock(handle: int, file: Path) -> None:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        what = "another gloveside is at work on this job"
        raise JournalError(file, what, "end that one first, or wait for it") from None
    except OSError as error:
        raise _cannot(error, file, "cannot be locked") from error


def _sync_both(handle: int, file: Path) -> None:
    try:
        os.fsync(handle)
        sync_folder(file.parent)
    except OSError as error:
        raise _cannot(error, file, "cannot be brought to the disk") from error


def _set_aside(handle: int, file: Path, piece: bytes) -> Path:
    """Move the torn piece at the file's end to a file of its own, that one first."""
    try:
        kept = _write_new(file, piece)
        os.ftruncate(handle, os.fstat(handle).st_size - len(piece))
        _sync_both(handle, file)
    except OSError as error:
        raise _cannot(error, file, "its torn last line cannot be set aside") from error
    return kept


def _write_new(file: Path, piece: bytes) -> Path:
    for number in itertools.count(1):
        kept = file.with_name(f"journal.torn-{number}")
        with contextlib.suppress(FileExistsError), kept.open("xb") as sink:
            sink.write(piece)
            sink.flush()
            os.fsync(sink.fileno())
            sync_folder(file.parent)
            return kept
    raise AssertionError("the numbers never end")


def _cannot(error: OSError, file: Path, what: str) -> JournalError:
    cause = error.strerror or str(error)
    remedies: dict[type[OSError], str] = {
        FileNotFoundError: "check the folder's name, or start a new job there",
        PermissionError: "choose a folder that you may write to",
    }
    remedy = remedies.get(type(error), "make room on the disk and see that it can be written")
    return JournalError(file, f"{what} ({cause})", remedy)


@contextlib.contextmanager
def _closed_on_error(handle: int) -> Iterator[None]:
    try:
        yield
    except BaseException:
        os.close(handle)
        raise
