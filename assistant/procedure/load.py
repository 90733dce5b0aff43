"""Load a procedure with its parts, and check all of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain, islice
from pathlib import Path

from assistant.procedure.branches import check_branches
from assistant.procedure.gates import check_gates
from assistant.procedure.gather import Texts, gather, texts_in
from assistant.procedure.join import Parts, join
from assistant.procedure.limits import check_limits
from assistant.procedure.model import Procedure
from assistant.procedure.names import check_names
from assistant.procedure.number_units import check_units
from assistant.procedure.paths import check_paths
from assistant.procedure.problems import MOST_PROBLEMS, FileRefused, Problem, refuse
from assistant.procedure.program import Program

__all__ = ["build_program", "load_program", "program_from_texts", "sources_of"]


def load_program(path: Path) -> Program:
    """Load and check a procedure file.

    Raises:
        FileRefused: with every problem found, in whichever file it stands.
    """
    return program_from_texts(path.name, texts_in(path.parent), str(path.parent))


def program_from_texts(main: str, text_of: Texts, folder: str = "") -> Program:
    """Build a checked program from texts, wherever they come from.

    Args:
        main: name of the main file.
        text_of: gives the text of a file by its name relative to the main file's folder.
        folder: what to put before file names in messages.

    Raises:
        FileRefused: with every problem found, in whichever file it stands.
    """
    gathered = gather(main, text_of, folder)
    if gathered.main.is_part:
        refuse(gathered.main.place, "this is a part: run a procedure that calls it", "part")
    return build_program(gathered.main, gathered.parts())


def build_program(procedure: Procedure, parts: Parts) -> Program:
    """Join a procedure with its parts, and check its paths and names; FileRefused if wrong."""
    program = join(procedure, parts)
    found = chain(
        check_paths(program),
        check_names(program),
        check_units(program),
        check_limits(program),
        check_branches(program),
        check_gates(program),
    )
    if problems := tuple(islice(_each_once(found), MOST_PROBLEMS)):
        raise FileRefused(problems)
    return program


def _each_once(problems: Iterable[Problem]) -> Iterator[Problem]:
    """A part that is called several times has its problems once; else they would hide others."""
    told: set[Problem] = set()
    for problem in problems:
        if problem not in told:
            told.add(problem)
            yield problem


def sources_of(path: Path) -> Iterator[str]:
    """The files that make up a procedure, the main file first, relative to its folder.

    Raises:
        FileRefused: one of them cannot be read.
    """
    yield from gather(path.name, texts_in(path.parent), str(path.parent)).files
