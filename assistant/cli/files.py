"""Files that the user names on the command line, and those that come with the program."""

from __future__ import annotations

import contextlib
import sys
from pathlib import Path

import assistant
from assistant.cli.complaint import Complaint
from assistant.procedure.problems import FileRefused

__all__ = ["STANDARD_OUTPUT", "complaint_about", "put", "put_text", "shipped", "write_out"]


STANDARD_OUTPUT = Path("-")
"""In place of a file: as is usual on the command line."""


def shipped(name: str) -> Path:
    """A folder or file that comes with the program: ``procedures`` or ``models``.

    In an installed package it lies inside it, in a checkout beside it.
    """
    package = Path(assistant.__file__).parent
    inside, beside = package / "shipped" / name, package.parent / name
    return inside if inside.exists() else beside


def complaint_about(refused: FileRefused) -> Complaint:
    """Every problem of a refused file, a line each."""
    count = len(refused.problems)
    what = "a file cannot be used" if count == 1 else f"{count} problems in the files"
    lines = "\n".join(f"  {problem}" for problem in refused.problems)
    return Complaint(f"{what}:\n{lines}")


def put(target: Path, data: bytes, mode: int = 0o644) -> None:
    """Write a file in place of the one that is there, whole or not at all.

    Beside it first: a full disk must not leave half of a file, nor take away a whole one.

    Args:
        target: the file.
        data: what it is to hold.
        mode: who may read and write it.

    Raises:
        OSError: it cannot be written; the file is as it was before.
    """
    part = target.with_name(f"{target.name}.part")
    try:
        part.unlink(missing_ok=True)
        part.touch(mode=mode)
        part.write_bytes(data)
        part.replace(target)
    except OSError:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise


def put_text(target: Path, text: str, remedy: str) -> None:
    """The same for a text that somebody asked for.

    Args:
        target: the file.
        text: what it is to hold.
        remedy: what to do where it cannot be written.

    Raises:
        Complaint: it cannot.
    """
    try:
        put(target, text.encode("utf-8"))
    except OSError as error:
        raise Complaint(f"{target} cannot be written: {error.strerror}; {remedy}") from error


def write_out(text: str, target: Path | None) -> None:
    """Write what was asked for to the file that ``--output`` names, and name it; else print it."""
    if target is None or target == STANDARD_OUTPUT:
        # The documents say that they are UTF-8, whatever the terminal is.
        sys.stdout.buffer.write(text.encode("utf-8"))
        return
    put_text(target, text, "name another place with --output")
    print(target)
