"""A procedure with its parts joined in: one graph of steps, ready to be run."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assistant.procedure.model import Procedure, Step

__all__ = ["Node", "Program", "Scope"]


@dataclass(frozen=True, slots=True)
class Scope:
    """Where the names in a step belong.

    Args:
        prefix: of the names and steps of this call, empty for the procedure itself.
        rotors: for each input of the part, the name of the unit's rotor that was passed.
    """

    prefix: str
    rotors: Mapping[str, str]

    def absolute(self, name: str) -> str:
        """The name as it is known in the whole program."""
        return self.prefix + name


@dataclass(frozen=True, slots=True)
class Node:
    """A step in the graph.

    Args:
        name: the step's name in the whole program: ``open-end/read``.
        step: the step as written.
        scope: where its names belong.
        targets: for each outcome, the name of the node to go on with.
    """

    name: str
    step: Step
    scope: Scope
    targets: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Program:
    """The whole graph; `start` is the node to begin with."""

    procedure: Procedure
    nodes: Mapping[str, Node]
    start: str
