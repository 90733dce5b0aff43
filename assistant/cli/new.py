"""``gloveside new``: a commented skeleton of a procedure or a part."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.editing import next_commands, schema_seen_from
from assistant.cli.presence import is_folder, is_there
from assistant.procedure.located import ScalarNode
from assistant.procedure.problems import FileRefused, Place
from assistant.procedure.skeletons import skeleton
from assistant.procedure.texts import read_name

__all__ = ["arguments", "run"]

_REMEDY = "name another folder with --folder"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("name", metavar="NAME", help="its name: lower case, digits and hyphens")
    parser.add_argument("--part", action="store_true", help="a part that procedures call")
    parser.add_argument(
        "--folder", type=Path, default=Path(), help="where to write it (default: here)"
    )


def run(args: argparse.Namespace) -> Exit:
    """Write a new file and name the next commands; one that is there is left as it is."""
    name, folder = _name(args.name), args.folder
    if not is_folder(folder, _REMEDY):
        raise Complaint(f"{folder} is no folder: make it first, or name another with --folder")
    kind = "part" if args.part else "procedure"
    file = folder / f"{name}.yaml"
    if is_there(file, _REMEDY):
        raise Complaint(f"{file} is there already: choose another name, or move that one away")
    text = skeleton(kind, name, schema_seen_from(folder, "procedure.schema.json"))
    try:
        with file.open("x", encoding="utf-8") as new:
            new.write(text)
    except OSError as error:
        raise Complaint(f"{file}: not written ({error.strerror}); {_REMEDY}") from error
    print(f"{file} is written.\n{next_commands(kind, file)}")
    return Exit.DONE


def _name(text: str) -> str:
    try:
        return read_name(ScalarNode(Place("", 1, 1), text, text), "the name")
    except FileRefused as refused:
        raise Complaint(refused.problems[0].message) from None
