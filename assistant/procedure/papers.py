"""The papers of a job: what is told before it begins, typed while the gloves are off."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from datetime import date
from types import MappingProxyType

from assistant.language.meaning import Quantity
from assistant.language.spelling import has_foreign_letters, letters_and_digits
from assistant.procedure.fields import DECIMAL, nearest, quoted
from assistant.procedure.program import Program
from assistant.procedure.quantities import LARGEST_WRITTEN
from assistant.procedure.values import Kind, Value

__all__ = ["PapersError", "missing_papers", "read_papers"]


class PapersError(ValueError):
    """The papers of a job are not those that its procedure wants."""


def missing_papers(program: Program, given: Mapping[str, str]) -> tuple[str, ...]:
    """The papers that the procedure wants and that were not given."""
    return tuple(name for name in program.procedure.papers if name not in given)


def read_papers(program: Program, given: Mapping[str, str]) -> Mapping[str, Value]:
    """Read what was told about a job.

    Args:
        program: the procedure that wants them.
        given: the papers by name, as they were typed.

    Raises:
        PapersError: one is missing, unknown, or not of its kind; the remedy is named.
    """
    wanted = program.procedure.papers
    for name in given:
        if name not in wanted:
            raise PapersError(
                f"the procedure wants no paper {quoted(name)}; {nearest(name, wanted)}"
            )
    if missing := missing_papers(program, given):
        raise PapersError(
            f"papers are missing: {', '.join(missing)}; give each as --paper NAME=TEXT"
        )
    return MappingProxyType(dict(_values(program, given)))


def _values(program: Program, given: Mapping[str, str]) -> Iterator[tuple[str, Value]]:
    units = program.procedure.paper_units
    for name, kind in program.procedure.papers.items():
        text = given[name].strip()
        is_number = kind is Kind.NUMBER
        yield (
            name,
            Value(kind, _number(name, text, units[name]) if is_number else _read(name, kind, text)),
        )


def _number(name: str, text: str, unit: str) -> Quantity:
    number = float(text) if DECIMAL.fullmatch(text) else math.nan
    if not abs(number) <= LARGEST_WRITTEN:
        raise PapersError(
            f"{name}: {quoted(text)} is no number of {unit}; write it in figures, like 38 or 1.5"
        )
    return Quantity(number, unit)


def _read(name: str, kind: Kind, text: str) -> object:
    if kind is Kind.DATE:
        try:
            return date.fromisoformat(text)
        except ValueError:
            message = f"{name}: {quoted(text)} is no date; write it like 2031-05-14"
            raise PapersError(message) from None
    # A byte that is no UTF-8 comes as a character that cannot be printed, nor kept.
    if not text.isprintable() or has_foreign_letters(text):
        raise PapersError(
            f"{name}: {quoted(text)} is spelled aloud: write it in letters from A to Z and digits"
        )
    if not letters_and_digits(text):
        raise PapersError(f"{name}: {quoted(text)} has no letters or digits that could be spoken")
    return text
