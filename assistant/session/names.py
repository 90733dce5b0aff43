"""The values that the names in a step stand for, while the job runs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from assistant.procedure.model import Reference, Template
from assistant.procedure.program import Node
from assistant.procedure.values import Kind, RotorOfUnit, Value, field_of, say
from assistant.trade.unit import Unit

__all__ = ["Names"]


@dataclass(slots=True)
class Names:
    """Names and values of a job.

    The loader has checked that every name has a value wherever it is used.

    Args:
        unit: the unit that is worked on.
        given: values that steps have given so far, by their names in the whole program.
    """

    unit: Unit
    given: dict[str, Value] = field(default_factory=dict)

    def give(self, node: Node, name: str, value: Value) -> None:
        """Let a name in the scope of a step stand for a value."""
        self.given[node.scope.absolute(name)] = value

    def value(self, node: Node, reference: Reference) -> Value:
        """The value that a reference in a step stands for."""
        head, *fields = reference.path
        value = self._head(node, head)
        for name in fields:
            value = field_of(value, name)
        return value

    def _head(self, node: Node, head: str) -> Value:
        if head == "unit":
            return Value(Kind.UNIT, self.unit)
        if head in node.scope.rotors:
            rotor = self.unit.rotor(node.scope.rotors[head])
            return Value(Kind.ROTOR, RotorOfUnit(self.unit, rotor))
        return self.given[node.scope.absolute(head)]

    def values(
        self, node: Node, references: tuple[tuple[str, Reference], ...]
    ) -> Mapping[str, Value]:
        """The values of several references, by their keys."""
        return {key: self.value(node, reference) for key, reference in references}

    def text(self, node: Node, template: Template) -> str:
        """A template with every name in its spoken form."""
        return "".join(self._pieces(node, template))

    def _pieces(self, node: Node, template: Template) -> Iterator[str]:
        for piece in template.pieces:
            yield piece if isinstance(piece, str) else say(self.value(node, piece))
