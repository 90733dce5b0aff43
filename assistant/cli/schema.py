"""``gloveside schema``: the JSON Schemas with which an editor completes and checks."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.cli.complaint import Exit
from assistant.cli.files import put_text
from assistant.procedure.schema import SCHEMA_FILES, schema_text

__all__ = ["arguments", "run", "write_schemas"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument(
        "folder", type=Path, metavar="FOLDER", help="where to write them: beside the procedures"
    )


def run(args: argparse.Namespace) -> Exit:
    """Write every schema."""
    for file in write_schemas(args.folder):
        print(file)
    return Exit.DONE


def write_schemas(folder: Path) -> tuple[Path, ...]:
    """Write the schemas into a folder; answers their files.

    Raises:
        Complaint: they cannot be written there.
    """
    files = tuple(folder / name for name in SCHEMA_FILES)
    for file in files:
        put_text(file, schema_text(file.name), "name a folder")
    return files
