"""Read a text file that a person wrote."""

from __future__ import annotations

from pathlib import Path

from assistant.procedure.located import LARGEST_FILE
from assistant.procedure.problems import Place, refuse

__all__ = ["read_text"]


def read_text(path: Path) -> str:
    """The text of a UTF-8 file of at most 1 MiB.

    Raises:
        FileRefused: where it is not there, not readable, too large or not UTF-8.
    """
    start = Place(str(path), 1, 1)
    try:
        if path.exists() and not path.is_file():
            refuse(start, "this is no file: name a YAML file", "file")
        with path.open("rb") as file:
            content = file.read(LARGEST_FILE + 1)
    except (FileNotFoundError, ValueError):
        refuse(start, "there is no such file: check the name", "file")
    except OSError as error:
        refuse(start, f"not readable ({error.strerror}): check its name and permissions", "file")
    if len(content) > LARGEST_FILE:
        refuse(start, "the file is over 1 MiB: split it into parts", "file-size")
    return _decoded(content, start)


def _decoded(content: bytes, start: Place) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # The decoder tells its position without the byte order mark, as `object` has it.
        before = error.object[: error.start].decode("utf-8")
        refuse(
            start.after(before), "no UTF-8 text from here on: save the file as UTF-8", "encoding"
        )
