"""The place in a procedure: a state machine made from the graph of its steps."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from transitions import Machine

from assistant.procedure.program import Node, Program

__all__ = ["Place", "transitions_of"]


def transitions_of(program: Program) -> Iterator[dict[str, Any]]:
    """The machine's table: one transition for each outcome of each step."""
    for node in program.nodes.values():
        for outcome, target in node.targets.items():
            yield {"trigger": f"on {outcome}", "source": node.name, "dest": target}


class Place:
    """Where the job stands.

    The machine has no callbacks: everything that could fail is decided before a transition, so
    that it can never be left between two steps.
    """

    def __init__(self, program: Program) -> None:
        self._nodes = program.nodes
        self._machine = Machine(
            model=None,
            states=list(program.nodes),
            transitions=list(transitions_of(program)),
            initial=program.start,
            auto_transitions=False,
            queued=True,
        )
        self._state = _State()
        self._machine.add_model(self._state)

    @property
    def node(self) -> Node:
        """The step at which the job stands."""
        return self._nodes[self._state.state]

    def go(self, outcome: str) -> None:
        """Leave the step by this outcome; KeyError where the step has no such outcome."""
        if outcome not in self.node.targets:
            raise KeyError(f"step {self.node.name} has no outcome {outcome!r}")
        self._state.trigger(f"on {outcome}")

    def return_to(self, name: str) -> None:
        """Stand at a step to which no outcome leads from here.

        Mostly the job has stood there before; not at one that is to be done before what was asked.
        """
        self._machine.set_state(name, self._state)


class _State:
    """What the machine moves; `transitions` adds `trigger` when it is given the model."""

    state: str
    trigger: Any
