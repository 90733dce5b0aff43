"""``gloveside lint``: the problems of procedures, parts and unit sheets."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from assistant.cli.complaint import Exit
from assistant.cli.pronouncing import PronouncingDictionary
from assistant.cli.vocabularies import vocabularies
from assistant.language.english import english
from assistant.procedure.problems import Problem
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.rules.subject import Means

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("files", type=Path, nargs="+", metavar="FILE", help="a YAML file")
    parser.add_argument("--format", choices=("text", "json"), default="text")


def run(args: argparse.Namespace) -> Exit:
    """Print every problem of every file; an error is a problem found."""
    # A part's problems are found again in each procedure that calls it.
    means = _means()
    problems = list(dict.fromkeys(p for file in args.files for p in lint_file(file, means)))
    for problem in problems:
        print(json.dumps(_as_json(problem)) if args.format == "json" else _as_text(problem))
    if any(problem.level == "error" for problem in problems):
        return Exit.PROBLEMS
    count = len(args.files)
    print(f"{count} file{'' if count == 1 else 's'}, no error", file=sys.stderr)
    return Exit.DONE


def _means() -> Means:
    """What the rules may use that is at hand on this machine."""
    dictionary = PronouncingDictionary.installed()
    if dictionary is None:
        print(
            "How replies are pronounced was not compared: pip install 'gloveside[writer]'",
            file=sys.stderr,
        )
    return Means(english(), recognisers=vocabularies(), dictionary=dictionary)


def _as_text(problem: Problem) -> str:
    """The problem, and the way that leads to it indented below."""
    return "\n    ".join((str(problem), *problem.way))


def _as_json(problem: Problem) -> dict[str, object]:
    return {
        "file": problem.place.file,
        "line": problem.place.line,
        "column": problem.place.column,
        "level": problem.level,
        "message": problem.message,
        "rule": problem.rule,
        "way": list(problem.way),
    }
