"""Check that what is compared with limits has their unit.

The computation itself cannot tell: forty one degrees are more than forty newton metres. So the unit
of every number is followed to where it comes from. That of an input of a part is the caller's; in a
part that is checked alone it is not known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.language.english import english
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.computing.limits import LIMITS, ONE_UNIT
from assistant.procedure.model import Ask, Compute
from assistant.procedure.names import Kinds, kind_of, kinds_of
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.values import FIELDS, Kind

__all__ = ["check_limits"]

Units = Mapping[str, frozenset[str]]
"""The units in which each name in the whole program is given a number, as the book calls them."""


def check_limits(program: Program) -> Iterator[Problem]:
    """Every number that is compared with limits in another unit, and limits that are crossed."""
    kinds, units = kinds_of(program), _units_given(program)
    for node in program.nodes.values():
        match node.step.action:
            case Compute(computation=name) as compute if name in LIMITS:
                known = dict(_units_of(node, compute, kinds, units))
                if message := _mixed(known) or _crossed(compute):
                    yield Problem(compute.place, message, "compute")


def _mixed(known: Mapping[str, frozenset[str]]) -> str | None:
    if len(frozenset().union(*known.values())) < 2:
        return None
    told = ", ".join(
        f"'{name}' in {' and '.join(sorted(known[name]))}" for name in ONE_UNIT if name in known
    )
    return f"{told} cannot be compared: give all of them in one unit"


def _crossed(compute: Compute) -> str | None:
    if {"least", "most"} <= compute.written.keys():
        least, most = (compute.written[name].content.value for name in ("least", "most"))
        if not least < most:
            return f"'least' must be below 'most', {most:g}"
    return None


def _units_of(
    node: Node, compute: Compute, kinds: Kinds, units: Units
) -> Iterator[tuple[str, frozenset[str]]]:
    """The units of the inputs, as far as they are known."""
    for name, value in compute.written.items():
        yield name, frozenset({_called(value.content.unit)})
    for name, reference in compute.inputs:
        kind, fields = kind_of(node, reference.path, kinds)
        if not fields:
            head, _ = node.scope.resolve(reference.path, kinds)
            if given := units.get(head):
                yield name, given
        elif unit := _unit_of_field(kind, fields):
            yield name, frozenset({_called(unit)})


def _unit_of_field(kind: Kind | None, fields: tuple[str, ...]) -> str | None:
    unit = None
    for name in fields:
        field = FIELDS.get(kind or Kind.TEXT, {}).get(name)
        kind, unit = (None, None) if field is None else (field.kind, field.unit)
    return unit


def _units_given(program: Program) -> Units:
    given: dict[str, set[str]] = {
        name: {_called(unit)} for name, unit in program.procedure.paper_units.items()
    }
    for node in program.nodes.values():
        match node.step.action:
            case Ask(into=str(into), unit=str(unit)):
                given.setdefault(node.scope.absolute(into), set()).add(_called(unit))
            case Compute(computation=name, into=str(into)):
                if result := COMPUTATIONS[name].unit:
                    given.setdefault(node.scope.absolute(into), set()).add(_called(result))
    return {name: frozenset(units) for name, units in given.items()}


def _called(unit: str) -> str:
    """A unit by the first of its names."""
    words = english().unit(unit)
    return unit if words is None else words.names[0]
