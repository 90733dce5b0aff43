"""Whether a file or folder is there, in a place at which looking may be forbidden.

`Path.exists` and its like raise where a folder on the way may not be searched, or a name is too
long for the system.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

from assistant.cli.complaint import Complaint

__all__ = ["is_folder", "is_there"]


def is_there(path: Path, remedy: str) -> bool:
    """Whether there is anything of that name.

    Args:
        path: where to look.
        remedy: what to do where one may not look.

    Raises:
        Complaint: one may not look there, or nothing can have that name.
    """
    return _looked_at(path, remedy) is not None


def is_folder(path: Path, remedy: str) -> bool:
    """Whether there is a folder of that name; the arguments and errors of `is_there`."""
    found = _looked_at(path, remedy)
    return found is not None and stat.S_ISDIR(found.st_mode)


def _looked_at(path: Path, remedy: str) -> os.stat_result | None:
    try:
        return path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise Complaint(f"{path} cannot be looked at: {error.strerror}; {remedy}") from error
