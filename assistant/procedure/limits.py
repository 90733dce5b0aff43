"""Check that what is compared with limits has their unit.

The computation itself cannot tell: forty one degrees are more than forty newton metres. So the unit
of every number is followed to where it comes from. That of an input of a part is the caller's; in a
part that is checked alone it is not known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.computing.limits import LIMITS, ONE_UNIT
from assistant.procedure.model import Compute
from assistant.procedure.number_units import NumberUnits, called
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program

__all__ = ["check_limits"]


def check_limits(program: Program) -> Iterator[Problem]:
    """Every number that is compared with limits in another unit, and limits that are crossed."""
    units = NumberUnits(program)
    for node in program.nodes.values():
        match node.step.action:
            case Compute(computation=name) as compute if name in LIMITS:
                known = dict(_units_of(node, compute, units))
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
    node: Node, compute: Compute, units: NumberUnits
) -> Iterator[tuple[str, frozenset[str]]]:
    """The units of the inputs, as far as they are known."""
    for name, value in compute.written.items():
        yield name, frozenset({called(value.content.unit)})
    for name, reference in compute.inputs:
        if known := units.of(node, reference):
            yield name, known
