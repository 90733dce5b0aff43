"""Files that the user names on the command line, and those that come with the program."""

from __future__ import annotations

from pathlib import Path

import assistant
from assistant.cli.complaint import Complaint
from assistant.procedure.problems import FileRefused

__all__ = ["complaint_about", "shipped"]


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
