"""Files that are edited while the program runs: whether one has changed since it was looked at."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

__all__ = ["WatchedFiles"]

Stamp = tuple[int, int] | None
"""When a file was written and how long it is; None where it is not there."""


@dataclass(slots=True)
class WatchedFiles:
    """Files that are watched by their stamps, looked at when it is asked for."""

    _stamps: Mapping[Path, Stamp] = field(default_factory=dict)

    def look(self, files: Iterable[Path] = ()) -> None:
        """Remember how these files stand now, or those that are watched already."""
        self._stamps = {file: _stamp(file) for file in files or self._stamps}

    @property
    def changed(self) -> bool:
        """Whether a file is not as it was remembered."""
        return any(_stamp(file) != stamp for file, stamp in self._stamps.items())


def _stamp(file: Path) -> Stamp:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size
