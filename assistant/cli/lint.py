"""``gloveside lint``: the problems of procedures, parts and unit sheets."""

from __future__ import annotations

import argparse
import contextlib
import json
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.pronouncing import PronouncingDictionary
from assistant.cli.rule_manuals import listed_rules, printed_manual
from assistant.cli.vocabularies import vocabularies
from assistant.language.english import english
from assistant.procedure.problems import Problem
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.rules.subject import Means, Seconds
from assistant.session.wording import ON_HOLD

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("files", type=Path, nargs="*", metavar="FILE", help="a YAML file")
    parser.add_argument("--format", choices=("text", "json"), default="text")
    parser.add_argument(
        "--render", action="store_true", help="measure how long each prompt takes to say"
    )
    parser.add_argument("--rules", action="store_true", help="list the rules")
    parser.add_argument("--manual", metavar="RULE", help="print the manual of a rule")


def run(args: argparse.Namespace) -> Exit:
    """Print every problem of every file; an error is a problem found."""
    if args.rules or args.manual is not None:
        print("\n".join(listed_rules()) if args.rules else printed_manual(args.manual))
        return Exit.DONE
    if not args.files:
        raise Complaint("name the files to check: gloveside lint FILE…", Exit.BAD_USE)
    # A part's problems are found again in each procedure that calls it.
    with _means(args.render) as means:
        problems = list(dict.fromkeys(p for file in args.files for p in lint_file(file, means)))
    for problem in problems:
        print(json.dumps(_as_json(problem)) if args.format == "json" else _as_text(problem))
    if not args.render:
        print("Spoken length was not measured: --render", file=sys.stderr)
    if any(problem.level == "error" for problem in problems):
        return Exit.PROBLEMS
    count = len(args.files)
    print(f"{count} file{'' if count == 1 else 's'}, no error", file=sys.stderr)
    return Exit.DONE


@contextlib.contextmanager
def _means(render: bool) -> Iterator[Means]:
    """What the rules may use that is at hand; the voice only where it is asked for."""
    dictionary = PronouncingDictionary.installed()
    if dictionary is None:
        print(
            "How replies are pronounced was not compared: pip install 'gloveside[writer]'",
            file=sys.stderr,
        )
    with contextlib.ExitStack() as stack:
        yield Means(
            english(),
            seconds=stack.enter_context(_measured()) if render else None,
            recognisers=vocabularies(),
            dictionary=dictionary,
            after_hold=ON_HOLD,
        )


@contextlib.contextmanager
def _measured() -> Iterator[Seconds]:
    """How long texts take to speak, from their rendered sound."""
    from assistant.cli.voices import open_renderer  # noqa: PLC0415
    from assistant.speech import wav  # noqa: PLC0415

    with open_renderer() as renderer:
        yield cache(lambda text: wav.seconds(renderer.render(text)))


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
