"""What a rule is.

A rule has a module of its own. The module's docstring is its manual: why the rule is there and
where it comes from, a sample that passes and one that fails; a test takes them at their word.
"""

from __future__ import annotations

import enum
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from assistant.procedure.problems import Place
from assistant.procedure.rules.subject import FileSubject, Subject
from assistant.procedure.unit_sheet import LocatedUnit

__all__ = [
    "FileRule",
    "Finding",
    "Level",
    "ProgramRule",
    "Rule",
    "Settings",
    "UnitRule",
    "is_of_safety",
]


class Level(enum.StrEnum):
    """How much a finding weighs: a procedure with an error is not run."""

    ERROR = "error"
    WARNING = "warning"


Setting = float | tuple[str, ...]
"""A number, or words."""


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings of a rule for one file, each as set there or by default."""

    values: Mapping[str, Setting]

    def number(self, name: str) -> float:
        """A setting that is a number."""
        value = self.values[name]
        assert isinstance(value, float), f"'{name}' is a number"
        return value

    def words(self, name: str) -> tuple[str, ...]:
        """A setting that is a list of words or phrases."""
        value = self.values[name]
        assert isinstance(value, tuple), f"'{name}' is a list"
        return value


@dataclass(frozen=True, slots=True)
class Finding:
    """A place where a rule is broken.

    Args:
        place: where.
        message: what is wrong and what would be right, in the writer's words.
        way: the shortest way there, a step a line, where that is what is wrong.
    """

    place: Place
    message: str
    way: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FileRule:
    """A rule for what is written in one file.

    Args:
        name: its name, as it stands behind each finding.
        level: how much a finding weighs where a file does not set it otherwise.
        check: gives the findings in a file.
        defaults: its settings and their values where a file sets none.
    """

    name: str
    level: Level
    check: Callable[[FileSubject, Settings], Iterator[Finding]]
    defaults: Mapping[str, Setting] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ProgramRule:
    """A rule for the whole procedure with its parts; arguments as those of a `FileRule`."""

    name: str
    level: Level
    check: Callable[[Subject, Settings], Iterator[Finding]]
    defaults: Mapping[str, Setting] = field(default_factory=dict)


Rule = FileRule | ProgramRule


@dataclass(frozen=True, slots=True)
class UnitRule:
    """A rule for a unit sheet, which has no settings; arguments as those of a `FileRule`."""

    name: str
    level: Level
    check: Callable[[LocatedUnit], Iterator[Finding]]


def is_of_safety(rule: Rule | UnitRule) -> bool:
    """Whether a rule holds everywhere: no file sets it otherwise, and no comment allows a break."""
    return rule.level is Level.ERROR
