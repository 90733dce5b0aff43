"""What shows by hand that a rotor is set as drawn, and where a procedure has all proved again.

A proof shows where the rotor was when it was made. Once a shaft was found free, any rotor may have
moved (common practice): the procedure says itself what follows from that at its gate, and from
there each way passes the proof of every rotor again (the rule ``rotor-proved`` sees to it).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.deeds import ActKind, Fact
from assistant.procedure.model import Compute, Hold, Reference
from assistant.procedure.program import Node, Program

__all__ = ["SHOWN_BY", "found_free", "proved_again_at", "shown_of", "tried_at_gate", "tries_shafts"]

SHOWN_BY: Mapping[str, str] = {"prove-sense": "drawn", "prove-trip": "right"}
"""The computations that a rotor is proved by, each with the outcome that shows it as drawn."""


def shown_of(node: Node, outcome: str) -> tuple[str, str] | None:
    """The rotor of which a step that was left by this outcome shows something, and by what."""
    match node.step.action:
        case Compute(computation=name, inputs=inputs) if SHOWN_BY.get(name) == outcome:
            rotor: Reference = dict(inputs)["rotor"]
            return node.scope.rotor(rotor.path[0]), name
    return None


def tries_shafts(node: Node) -> bool:
    """Whether a step has the shafts tried."""
    return node.step.does(ActKind.TRY_SHAFTS)


def found_free(node: Node, outcome: str) -> bool:
    """Whether a step that was left by this outcome did not find the shafts locked."""
    return tries_shafts(node) and Fact.RODS_ENGAGED not in node.step.proves.get(outcome, ())


def tried_at_gate(program: Program) -> Iterator[Node]:
    """The steps in the part of the gate that have the shafts tried; none where there is no gate."""
    if (gate := program.gate) is not None:
        for node in program.nodes.values():
            if tries_shafts(node) and node.scope.prefix == gate.scope.prefix:
                yield node


def proved_again_at(program: Program) -> Node | None:
    """Where the procedure goes on once a shaft was free at its gate, and all are locked again.

    None where it has no gate, or the part of the gate does not try the shafts.
    """
    for node in tried_at_gate(program):
        for free in (name for name in node.targets if found_free(node, name)):
            return _once_locked(program, program.nodes[node.targets[free]])
    return None


def _once_locked(program: Program, node: Node) -> Node:
    """The first step from here on that does more than hold, and have the shafts tried."""
    seen: set[str] = set()
    while isinstance(node.step.action, Hold) and node.name not in seen:
        seen.add(node.name)
        node = program.nodes[node.targets["next"]]
    locked = (name for name in node.targets if tries_shafts(node) and not found_free(node, name))
    return next((program.nodes[node.targets[name]] for name in locked), node)
