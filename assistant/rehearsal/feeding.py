"""Which questions decide by which outcome a step is left.

A computation is decided by the answers that its inputs come from, through other computations where
they lie between.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Ask, Branch, Compute
from assistant.procedure.names import kinds_of
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import assigned_by, uses_of

__all__ = ["Feeding"]


class Feeding:
    """The flow of values through a program.

    Args:
        program: the checked procedure.
    """

    def __init__(self, program: Program) -> None:
        self._program = program
        self._known = kinds_of(program)
        self._givers: dict[str, list[Node]] = {}
        for node in program.nodes.values():
            for name, _ in assigned_by(node):
                self._givers.setdefault(name, []).append(node)
        self._found: dict[str, frozenset[str]] = {}

    def questions_of(self, node: Node) -> frozenset[str]:
        """The steps whose answers decide how a step is left; itself, where it is a question."""
        if node.name not in self._found:
            self._found[node.name] = frozenset(self._questions(node))
        return self._found[node.name]

    def _questions(self, node: Node) -> Iterator[str]:
        waiting, seen = [node], {node.name}
        while waiting:
            one = waiting.pop()
            if isinstance(one.step.action, Ask):
                yield one.name
                if one is not node:
                    continue
            for giver in self._givers_of(one):
                if giver.name not in seen:
                    seen.add(giver.name)
                    waiting.append(giver)

    def _givers_of(self, node: Node) -> Iterator[Node]:
        if not isinstance(node.step.action, Compute | Branch):
            return
        for use in uses_of(node):
            name, _ = node.scope.resolve(use.reference.path, self._known)
            yield from self._givers.get(name, ())
