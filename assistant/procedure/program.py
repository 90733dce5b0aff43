"""A procedure with its parts joined in: one graph of steps, ready to be run."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass, field

from assistant.procedure.model import Procedure, Reference, Step
from assistant.procedure.values import Kind

__all__ = ["Node", "Pass", "Program", "Scope"]


@dataclass(frozen=True, slots=True)
class Scope:
    """Where the names in a step belong.

    Args:
        prefix: of the names and steps of this call, empty for the procedure itself.
        rotors: for each input of the part that is a rotor, the name of the unit's rotor.
        passed: for each other input of the part, the name of its value in the whole program.
    """

    prefix: str
    rotors: Mapping[str, str]
    passed: Mapping[str, str] = field(default_factory=dict)

    def absolute(self, name: str) -> str:
        """The name as it is known in the whole program."""
        return self.passed.get(name, self.prefix + name)

    def rotor(self, name: str) -> str:
        """The unit's rotor that a name stands for; in a part that is checked alone, its input."""
        return self.rotors.get(name, name)

    def resolve(self, path: tuple[str, ...], known: Container[str]) -> tuple[str, tuple[str, ...]]:
        """The name in the whole program that a path begins with, and the fields that follow it.

        A path may begin with a name of this scope, or with steps that call parts and a name in
        the last of them: ``find.sweep`` is the name ``sweep`` in the part that ``find`` calls.
        """
        head = self.absolute(path[0])
        if head not in known:
            for length in range(2, len(path) + 1):
                inner = self.prefix + "/".join(path[:length])
                if inner in known:
                    return inner, path[length:]
        return head, path[1:]


@dataclass(frozen=True, slots=True)
class Pass:
    """A value that a call passes to a part: what was written, and the kind that the part wants."""

    reference: Reference
    kind: Kind


@dataclass(frozen=True, slots=True)
class Node:
    """A step in the graph.

    Args:
        name: the step's name in the whole program: ``open-end/read``.
        step: the step as written.
        scope: where its names belong.
        targets: for each outcome, the name of the node to go on with.
        passes: the values that a call passes to its part.
        part: the part that a call calls; None for any other step.
        after: for each outcome of that part, the name of the node that follows the call.
    """

    name: str
    step: Step
    scope: Scope
    targets: Mapping[str, str]
    passes: tuple[Pass, ...] = ()
    part: Procedure | None = None
    after: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Program:
    """The whole graph; `start` is the node to begin with."""

    procedure: Procedure
    nodes: Mapping[str, Node]
    start: str

    def number(self, step: str) -> int:
        """The place of a step among all, from 1, in the order in which they are written."""
        return list(self.nodes).index(step) + 1

    @property
    def handles_valve(self) -> bool:
        """Whether somebody is to do something to a valve."""
        return any(node.step.acts for node in self.nodes.values())

    @property
    def gate(self) -> Node | None:
        """Where what must be known before the motor runs is proved; None where it never runs."""
        return next((node for node in self.nodes.values() if node.step.is_gate), None)
