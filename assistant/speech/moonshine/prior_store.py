"""Where the non-speech prior is kept: in memory, and in a file for the next run.

The file only spares time. If it cannot be written, is damaged or is locked by another process, the
prior is computed again and nothing else changes.
"""

from __future__ import annotations

import itertools
import sqlite3
from collections.abc import Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.nonspeech import Beginning, LogLikelihoods

__all__ = ["FileStore", "MemoryStore"]

_Known = Mapping[int, LogLikelihoods]

_PATIENCE = 0.2
"""Seconds to wait for another process that is writing."""

_TABLE = (
    "CREATE TABLE IF NOT EXISTS following"
    " (beginning BLOB PRIMARY KEY, tokens BLOB NOT NULL, scores BLOB NOT NULL) WITHOUT ROWID"
)


class MemoryStore:
    """Keeps the prior for this run: what was put last, at some 8 KiB for each beginning.

    Args:
        most: how many beginnings are kept.
    """

    def __init__(self, most: int = 5_000) -> None:
        self._known: dict[Beginning, _Known] = {}
        self._most = most

    def get(self, beginning: Beginning) -> _Known | None:
        """What is known about the tokens after this beginning."""
        return self._known.get(beginning)

    def put(self, known: Mapping[Beginning, _Known]) -> None:
        """Keep what is known about the tokens after these beginnings."""
        self._known.update(known)
        for oldest in list(itertools.islice(self._known, max(0, len(self._known) - self._most))):
            del self._known[oldest]


class FileStore:
    """Keeps the prior for this run and the next ones.

    Args:
        file: an SQLite file, created if it is not there, together with its folder; its name must
            tell the model and the noises, since its contents hold for no others.
        noises: how many noises there are.
    """

    def __init__(self, file: Path, noises: int) -> None:
        self._memory = MemoryStore()
        self._noises = noises
        self._connection = _open(file)

    def get(self, beginning: Beginning) -> _Known | None:
        """What is known about the tokens after this beginning, in memory or in the file."""
        known = self._memory.get(beginning)
        if known is None and (read := self._read(beginning)) is not None:
            known = read
            self._memory.put({beginning: known})
        return known

    def put(self, known: Mapping[Beginning, _Known]) -> None:
        """Keep what is known about the tokens after these beginnings."""
        self._memory.put(known)
        if self._connection is None:
            return
        rows = [
            (_pack(beginning), _pack(following), np.array([*following.values()], "<f4").tobytes())
            for beginning, following in known.items()
        ]
        try:
            with self._connection:
                self._connection.executemany(
                    "INSERT OR REPLACE INTO following VALUES (?, ?, ?)", rows
                )
        except sqlite3.Error:
            pass  # not kept this time; it will be computed again

    def close(self) -> None:
        """Let go of the file; the memory stays."""
        if self._connection is not None:
            self._connection.close()
            self._connection = None

    def _read(self, beginning: Beginning) -> _Known | None:
        if self._connection is None:
            return None
        try:
            row = self._connection.execute(
                "SELECT tokens, scores FROM following WHERE beginning = ?", (_pack(beginning),)
            ).fetchone()
            return row and self._unpack(*row)
        except (sqlite3.Error, ValueError, TypeError):
            return None

    def _unpack(self, tokens: bytes, scores: bytes) -> _Known:
        numbers = np.frombuffer(tokens, "<u2").tolist()
        table: NDArray[np.float32] = np.frombuffer(scores, "<f4").reshape(-1, self._noises)
        return dict(zip(numbers, table, strict=True))


def _pack(tokens: Beginning | _Known) -> bytes:
    return np.array([*tokens], "<u2").tobytes()


def _open(file: Path) -> sqlite3.Connection | None:
    """A connection to the file; a damaged one is replaced; None if there can be none."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        return _connect(file)
    except sqlite3.OperationalError:
        return None
    except sqlite3.DatabaseError:
        return _replace(file)
    except OSError:
        return None


def _connect(file: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(file, timeout=_PATIENCE, check_same_thread=False)
    try:
        connection.execute("PRAGMA journal_mode = WAL")  # a commit waits for no disk
        connection.execute("PRAGMA synchronous = NORMAL")
        connection.execute(_TABLE)
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def _replace(file: Path) -> sqlite3.Connection | None:
    try:
        file.unlink()
        return _connect(file)
    except (sqlite3.Error, OSError):
        return None
