"""The papers of a job on the command line, and at the keyboard for those not given there."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping

from assistant.cli.complaint import Complaint
from assistant.procedure.papers import missing_papers
from assistant.procedure.program import Program

__all__ = ["add_papers", "all_papers", "given_papers"]


def add_papers(parser: argparse.ArgumentParser) -> None:
    """Declare the argument."""
    parser.add_argument(
        "--paper",
        action="append",
        default=[],
        metavar="NAME=TEXT",
        help="what the procedure wants to know before the job: technician=AB, work-order=W417, …",
    )


def given_papers(given: list[str]) -> dict[str, str]:
    """The papers that were given, as they were typed, by name.

    Raises:
        Complaint: one is not written NAME=TEXT.
    """
    papers: dict[str, str] = {}
    for paper in given:
        name, equals, text = paper.partition("=")
        if not equals:
            raise Complaint(f"--paper {paper}: write it NAME=TEXT, for example technician=AB")
        papers[name.strip()] = text
    return papers


def all_papers(given: list[str], program: Program) -> Mapping[str, str]:
    """The papers that were given, and those that are asked for at the keyboard.

    Raises:
        Complaint: one is not written NAME=TEXT, or the keyboard's input ends before the last.
    """
    papers = given_papers(given)
    if sys.stdin.isatty():
        for name in missing_papers(program, papers):
            papers[name] = _typed(name, program.procedure.paper_units.get(name))
    return papers


def _typed(name: str, unit: str | None) -> str:
    asked = name.replace("-", " ") + (f", in {unit}" if unit else "")
    try:
        return input(f"{asked}: ")
    except EOFError:
        print()
        raise Complaint(
            f"the paper '{name}' is missing: type it, or give it as --paper {name}=TEXT"
        ) from None
