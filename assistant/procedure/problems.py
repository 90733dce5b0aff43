"""What is wrong with a file, where, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NoReturn

__all__ = ["MOST_PROBLEMS", "NO_FILE", "FileRefused", "Place", "Problem", "refuse"]

MOST_PROBLEMS = 200
"""Problems of a joined program that are looked for at a time; each takes a hint to work out."""

NO_FILE = ""
"""File of a procedure that was never written, the caller of a part that is checked alone; no file
can have this name."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A place in a file; line and column count from 1."""

    file: str
    line: int
    column: int

    def after(self, written: str) -> Place:
        """The place just behind a text that begins here.

        >>> print(Place("a.yaml", 3, 5).after("up: down"))
        a.yaml:3:13
        """
        last = written.rfind("\n")
        column = self.column + len(written) if last < 0 else len(written) - last
        return Place(self.file, self.line + written.count("\n"), column)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong.

    Args:
        place: where it stands.
        message: what is wrong and what would be right, in the writer's words.
        rule: short name of the rule that it breaks.
        level: ``error`` or ``warning``; a file with an error is not used.
        way: where it takes a way through the procedure to come there, that way, a step a line.
    """

    place: Place
    message: str
    rule: str
    level: str = "error"
    way: tuple[str, ...] = field(default=(), compare=False)

    def __str__(self) -> str:
        return f"{self.place}: {self.level} {self.message} ({self.rule})"


class FileRefused(Exception):  # noqa: N818 - it says what happened, in the users' words
    """A file cannot be used; `problems` says why, each once, in the order of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def refuse(place: Place, message: str, rule: str) -> NoReturn:
    """Raise `FileRefused` with a single problem."""
    raise FileRefused([Problem(place, message, rule)])
