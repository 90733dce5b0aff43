"""Check that a program whose motor runs has one gate to come back to."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.deeds import ACTS, AT_THE_GATE
from assistant.procedure.problems import Problem
from assistant.procedure.program import Program

__all__ = ["check_gates"]


def check_gates(program: Program) -> Iterator[Problem]:
    """A missing gate, told at the act that needs one, and a second one."""
    gates = [node for node in program.nodes.values() if node.step.is_gate]
    for node in gates[1:]:
        message = "a program has one gate: call the part with it once, or mark one step"
        yield Problem(node.step.place, message, "gate")
    if gates:
        return
    for node in program.nodes.values():
        for act in node.step.acts:
            if ACTS[act.kind].needs & AT_THE_GATE:
                message = (
                    f"'{act.kind}' needs a gate: mark the step with 'gate: yes' from which on "
                    "mid-travel, people and permission are proved"
                )
                yield Problem(act.place, message, "gate")
                return
