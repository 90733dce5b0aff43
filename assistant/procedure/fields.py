"""Take what was written apart: texts, numbers, lists, and the fields of a mapping."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable, Iterable
from typing import NoReturn, TypeVar

from assistant.procedure.located import CUT_OFF, Located, MappingNode, ScalarNode, SequenceNode
from assistant.procedure.problems import FileRefused, Place, Problem, refuse

__all__ = [
    "DECIMAL",
    "Fields",
    "as_items",
    "as_number",
    "as_prose",
    "as_scalar",
    "as_text",
    "misspelt",
    "nearest",
    "quoted",
    "read_each",
]

Item = TypeVar("Item")
Read = TypeVar("Read")

MOST_NAMES = 20
"""Names in one hint."""

DECIMAL = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?")
"""How numbers are written."""

_NOTHING = frozenset({"~", "null", "Null", "NULL"})
"""Source: YAML 1.2.2 §10.3.2."""


def quoted(text: str) -> str:
    """What was written, short enough for a message.

    >>> quoted("a" * 100)
    "'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa…'"
    """
    line = " ".join(text.split())
    return f"'{line}'" if len(line) <= 40 else f"'{line[:39]}…'"


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint for a misspelt word: what was probably meant, else all that is known.

    >>> nearest("openn", ["open", "closed"])
    "did you mean 'open'?"
    """
    names = sorted(known)
    close = difflib.get_close_matches(word, names, n=1)
    if close:
        return f"did you mean '{close[0]}'?"
    if not names:
        return "none is known here"
    more = ", …" if len(names) > MOST_NAMES else ""
    return f"known here: {', '.join(names[:MOST_NAMES])}{more}"


def misspelt(word: str, known: Iterable[str]) -> str | None:
    """The known word of which another is surely a misspelling; None where it may mean another.

    >>> misspelt("disengaged", ["disengage", "unseat"])
    'disengage'
    >>> misspelt("unscrew", ["disengage", "unseat"])
    """
    close = difflib.get_close_matches(word, sorted(known), n=1, cutoff=0.7)
    return close[0] if close else None


def as_scalar(value: Located, what: str) -> ScalarNode:
    """The scalar with something in it that a value must be."""
    if not isinstance(value, ScalarNode):
        refuse(value.place, f"{what} must be a text: if it is one, put quotes round it", "type")
    if not value.text.strip():
        refuse(value.place, f"{what} is empty: write a text", "type")
    if value.written in _NOTHING:
        message = (
            f"{what} is {quoted(value.text)}, which editors take for nothing: put quotes round it"
        )
        refuse(value.place, message, "type")
    return value


def as_text(value: Located, what: str) -> str:
    """The text of a scalar, on one line."""
    return " ".join(as_scalar(value, what).text.split())


def as_prose(value: Located, what: str) -> str:
    """The text of a scalar that people hear or read, on one line; none of it may be a comment."""
    scalar = as_scalar(value, what)
    if scalar.cut_at:
        refuse(scalar.cut_at, f"{what}: {CUT_OFF}", "text")
    return as_text(scalar, what)


def as_number(value: Located, what: str) -> float:
    """The finite number that a scalar states in figures."""
    text = as_text(value, what)
    number = float(text) if DECIMAL.fullmatch(text) else math.nan
    if not math.isfinite(number):
        refuse(value.place, f"{what} must be a number like 1.5, not {quoted(text)}", "type")
    return number


def as_items(value: Located, what: str) -> tuple[Located, ...]:
    """The items of a list."""
    if not isinstance(value, SequenceNode):
        refuse(value.place, f"{what} must be a list: [one, two], or a line '- one' each", "type")
    return value.items


def read_each(items: Iterable[Item], read: Callable[[Item], Read]) -> tuple[Read, ...]:
    """Read every item; raises `FileRefused` with the problems of all that are wrong."""
    found: list[Read] = []
    problems: list[Problem] = []
    for item in items:
        try:
            found.append(read(item))
        except FileRefused as refused:
            problems.extend(refused.problems)
    if problems:
        raise FileRefused(problems)
    return tuple(found)


class Fields:
    """The fields of a mapping, taken one by one; `finish` refuses what was not taken.

    Args:
        value: the mapping.
        what: what it describes, for messages ("a step").
    """

    def __init__(self, value: Located, what: str) -> None:
        if not isinstance(value, MappingNode):
            refuse(value.place, f"{what} must be made of lines 'field: value'", "type")
        self.place = value.place
        self.what = what
        self._entries = {key.text: (key, item) for key, item in value.entries}
        self._asked: set[str] = set()

    def take(self, name: str) -> Located | None:
        """The value of a field, or None where it is not there."""
        self._asked.add(name)
        entry = self._entries.get(name)
        return entry[1] if entry else None

    def need(self, name: str) -> Located:
        """The value of a field that must be there."""
        value = self.take(name)
        if value is None:
            self._refuse_without(name)
        return value

    def _refuse_without(self, name: str) -> NoReturn:
        """Refuse at the misspelt field where there is one, else where the mapping begins."""
        left = [written for written in self._entries if written not in self._asked]
        if written := misspelt(name, left):
            raise FileRefused([self._unknown(written)])
        refuse(self.place, f"{self.what} needs '{name}:'", "missing-field")

    def text(self, name: str) -> str:
        """The text of a field that must be there."""
        return as_text(self.need(name), f"'{name}'")

    def prose(self, name: str) -> str:
        """The text for people in a field that must be there."""
        return as_prose(self.need(name), f"'{name}'")

    def number(self, name: str) -> float:
        """The number in a field that must be there."""
        return as_number(self.need(name), f"'{name}'")

    def table(self, name: str) -> tuple[tuple[ScalarNode, Located], ...]:
        """The entries of a mapping in a field; none where the field is not there."""
        value = self.take(name)
        return () if value is None else Fields(value, f"'{name}'").entries()

    def entries(self) -> tuple[tuple[ScalarNode, Located], ...]:
        """Every entry, all of them counted as taken."""
        self._asked.update(self._entries)
        return tuple(self._entries.values())

    def names(self) -> tuple[str, ...]:
        """The names of the fields, as they were written."""
        return tuple(self._entries)

    def place_of(self, name: str) -> Place:
        """Where a field is named; where the mapping begins if it is not there."""
        entry = self._entries.get(name)
        return entry[0].place if entry else self.place

    def finish(self) -> None:
        """Refuse every field that nobody asked for."""
        unknown = [name for name in self._entries if name not in self._asked]
        if unknown:
            raise FileRefused(self._unknown(name) for name in unknown)

    def _unknown(self, name: str) -> Problem:
        hint = nearest(name, self._asked)
        message = f"{self.what} has no field {quoted(name)}; {hint}"
        return Problem(self.place_of(name), message, "unknown-key")
