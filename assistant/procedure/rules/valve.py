"""What is known of the valve on every way through a procedure.

The same rules as in a job (`known`, and what the session does about a gate): a hold with the supply
on takes back all that was proved at the gate, and the job then returns to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.procedure.deeds import AT_THE_GATE, ActKind, Fact
from assistant.procedure.known import begun, lacking, left
from assistant.procedure.model import End, Hold
from assistant.procedure.program import Node, Program
from assistant.procedure.ways import Arrival, arrivals

__all__ = ["Known", "Lack", "lacks"]

_TOUCHED = frozenset({ActKind.DISENGAGE, ActKind.ENGAGE, ActKind.TRY_SHAFTS})


@dataclass(frozen=True, slots=True)
class Known:
    """What is known.

    Args:
        facts: what is known of the valve.
        touched: whether a rod was moved and the shafts were not felt to be locked since.
        stood_down: whether a hold took back what was proved at the gate.
    """

    facts: frozenset[Fact] = frozenset()
    touched: bool = False
    stood_down: bool = False


@dataclass(frozen=True, slots=True)
class Lack:
    """A step that can be reached without a fact that it needs.

    Args:
        arrival: the step, with a shortest way to it.
        fact: what is not known there.
    """

    arrival: Arrival[Known]
    fact: Fact


def lacks(program: Program) -> Iterator[Lack]:
    """Every step that can be reached without what it needs, once for each fact.

    What is missing counts as known afterwards, so that the same omission is told once.
    """
    found: set[tuple[str, Fact]] = set()
    for arrival in arrivals(program, Known(), _left):
        for fact in _lacking(arrival.node, arrival.state):
            if (arrival.node.name, fact) not in found:
                found.add((arrival.node.name, fact))
                yield Lack(arrival, fact)


def _lacking(node: Node, known: Known) -> tuple[Fact, ...]:
    missing = lacking(node.step, known.facts)
    if isinstance(node.step.action, End) and known.touched and Fact.RODS_ENGAGED not in missing:
        missing = (*missing, Fact.RODS_ENGAGED)
    if known.stood_down:
        # The session goes back to the gate and proves it anew before anything is done.
        return tuple(fact for fact in missing if fact not in AT_THE_GATE)
    return missing


def _left(node: Node, outcome: str, known: Known) -> Known:
    facts = known.facts | frozenset(lacking(node.step, known.facts))
    facts = begun(node.step, facts)
    stood_down = known.stood_down and not facts >= AT_THE_GATE
    if isinstance(node.step.action, Hold) and Fact.ENERGISED in facts:
        facts, stood_down = facts - AT_THE_GATE, True
    facts = left(node.step, outcome, facts)
    moved = any(act.kind in _TOUCHED for act in node.step.acts)
    touched = (known.touched or moved) and Fact.RODS_ENGAGED not in facts
    return Known(facts, touched, stood_down)
