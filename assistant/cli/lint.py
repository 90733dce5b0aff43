"""``gloveside lint``: the problems of procedures, parts and unit sheets."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path

from assistant.cli.complaint import Exit
from assistant.procedure.check_file import check_file
from assistant.procedure.problems import FileRefused, Problem

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("files", type=Path, nargs="+", metavar="FILE", help="a YAML file")
    parser.add_argument("--format", choices=("text", "json"), default="text")


def run(args: argparse.Namespace) -> Exit:
    """Print every problem of every file; an error is a problem found."""
    # A part's problems are found again in each procedure that calls it.
    problems = list(dict.fromkeys(p for file in args.files for p in _problems(file)))
    for problem in problems:
        print(json.dumps(_as_json(problem)) if args.format == "json" else problem)
    if any(problem.level == "error" for problem in problems):
        return Exit.PROBLEMS
    count = len(args.files)
    print(f"{count} file{'' if count == 1 else 's'}, no error", file=sys.stderr)
    return Exit.DONE


def _problems(file: Path) -> Iterator[Problem]:
    try:
        check_file(file)
    except FileRefused as refused:
        yield from refused.problems


def _as_json(problem: Problem) -> dict[str, object]:
    return {
        "file": problem.place.file,
        "line": problem.place.line,
        "column": problem.place.column,
        "level": problem.level,
        "message": problem.message,
        "rule": problem.rule,
    }
