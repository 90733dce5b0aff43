"""Check that a number is in the unit that is counted in where it is used.

A computation that takes handwheel turns would take a millimetre for one: it goes by the number
alone. So the unit with which a number was asked for goes with its name, through calls too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.language.english import english
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.deeds import ACTS
from assistant.procedure.model import Ask, Compute, Reference
from assistant.procedure.names import kind_of, kinds_of
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.values import FIELDS, Kind

__all__ = ["NumberUnits", "called", "check_units"]

_OF_ACTS = "turns"
"""What is cranked is counted in turns of the handwheel."""


class NumberUnits:
    """The units of the numbers of a program.

    Args:
        program: the procedure.
    """

    def __init__(self, program: Program) -> None:
        self._kinds = kinds_of(program)
        self._given = {name: {called(unit)} for name, unit in program.procedure.paper_units.items()}
        for node in program.nodes.values():
            for name, unit in _given_by(node):
                self._given.setdefault(name, set()).add(unit)

    def of(self, node: Node, reference: Reference) -> frozenset[str]:
        """Each unit in which a number can be; none where that is not known, or it is no number."""
        kind, fields = kind_of(node, reference.path, self._kinds)
        if not fields:
            name, _ = node.scope.resolve(reference.path, self._kinds)
            return frozenset(self._given.get(name, ()))
        unit = None
        for name in fields:
            found = FIELDS.get(kind, {}).get(name) if kind is not None else None
            kind, unit = (None, None) if found is None else (found.kind, found.unit)
        return frozenset() if unit is None else frozenset({unit})


@dataclass(frozen=True, slots=True)
class _Use:
    """A number that a step uses, the unit in which it has to be, and what wants it so."""

    reference: Reference
    unit: str
    by: str


def check_units(program: Program) -> Iterator[Problem]:
    """Every number that may be in another unit than is counted in where it is used."""
    units = NumberUnits(program)
    for node in program.nodes.values():
        for use in _uses(node):
            for other in sorted(units.of(node, use.reference) - {use.unit}):
                message = (
                    f"'{use.reference}' is a number in {other}, and {use.by} counts in "
                    f"{use.unit}: ask for it with 'unit: {use.unit}', or take another number"
                )
                yield Problem(use.reference.place, message, "number-unit")


def _uses(node: Node) -> Iterator[_Use]:
    for act in node.step.acts:
        for name, reference in act.arguments:
            if ACTS[act.kind].arguments[name] is Kind.NUMBER:
                yield _Use(reference, _OF_ACTS, f"'{act.kind}'")
    match node.step.action:
        case Compute(computation=name, inputs=inputs):
            wanted: Mapping[str, str] = COMPUTATIONS[name].units
            for key, reference in inputs:
                if key in wanted:
                    yield _Use(reference, wanted[key], f"'{name}'")
        case Ask(most=Reference() as most, unit=str(unit)):
            yield _Use(most, called(unit), "this question")


def _given_by(node: Node) -> Iterator[tuple[str, str]]:
    """The names that a step gives a number, as known in the whole program, and its unit."""
    match node.step.action:
        case Ask(into=str(into), unit=str(unit)):
            yield node.scope.absolute(into), called(unit)
        case Compute(computation=name, into=str(into)):
            result = COMPUTATIONS[name].result_unit
            if result is not None:
                yield node.scope.absolute(into), result


def called(unit: str) -> str:
    """A unit by the first of the names that can be written for it."""
    words = english().unit(unit)
    return unit if words is None else words.names[0]
