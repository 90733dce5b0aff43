"""What a writer needs beside a file that was made for them: its schema, and what to do next."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from assistant.cli.files import put_text
from assistant.procedure.schema import schema_text

__all__ = ["next_commands", "schema_seen_from"]

_NEXT: Mapping[str, tuple[str, ...]] = {
    "procedure": (
        "lint {file}",
        "draw {file} --output {drawing}",
        "rehearse {file}",
        "run {file} --ears typed --voice off --job jobs/trial",
    ),
    "part": ("lint {file}", "draw {file} --output {drawing}"),
    "unit": ("lint {file}", "unit draw {file} --output {drawing}"),
}
"""What to do next with a new file of each kind; a verb of use to a writer is added here."""


def next_commands(kind: str, file: Path) -> str:
    """The commands for a new file, a line each."""
    lines = (
        f"  gloveside {command.format(file=file, drawing=file.with_suffix('.svg'))}"
        for command in _NEXT[kind]
    )
    return "\n".join(("Next:", *lines))


def schema_seen_from(folder: Path, name: str) -> str:
    """The path of a schema as a file in a folder names it.

    The schema of the folder itself or of the one above is taken; where there is none, it is
    written into the folder.

    Raises:
        Complaint: it cannot be written.
    """
    for path in (name, f"../{name}"):
        if (folder / path).is_file():
            return path
    put_text(folder / name, schema_text(name), "name another folder")
    return name
