"""The values that the names in a step stand for, while the job runs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

from assistant.procedure.model import Reference, Template
from assistant.procedure.program import Node
from assistant.procedure.values import Kind, Moment, RotorOfUnit, Value, field_of, say
from assistant.trade.unit import Unit

__all__ = ["Names"]


_NEVER = datetime.max.replace(tzinfo=UTC)
"""In place of a moment that is lost, by older rules."""

_UNIT = "unit"
"""The name of the unit, the same in every scope; a counted stroke replaces what it stands for."""


@dataclass(slots=True)
class Names:
    """Names and values of a job.

    The loader has checked that every name has a value wherever it is used.

    Args:
        given: what has been given so far, by its name in the whole program: the unit, the papers
            of the job, and the values that steps gave.
    """

    given: dict[str, Value] = field(default_factory=dict)

    @classmethod
    def at_start(cls, unit: Unit | None, papers: Mapping[str, Value]) -> Names:
        """What is known before the first step."""
        return cls({**papers, **({_UNIT: Value(Kind.UNIT, unit)} if unit else {})})

    def give(self, node: Node, name: str, value: Value) -> None:
        """Let a name in the scope of a step stand for a value."""
        self.given[name if name == _UNIT else node.scope.absolute(name)] = value

    def lose_moments(self) -> None:
        """Let no time be measured from a moment before a break: what went on in it is unknown."""
        self._change_moments(lambda moment: replace(moment, measured_from=False))

    def lose_days_too(self) -> None:
        """The same by older rules, by which such a moment has no day either."""
        self._change_moments(lambda _: Moment(_NEVER, measured_from=False))

    def _change_moments(self, change: Callable[[Moment], Moment]) -> None:
        for name, value in self.given.items():
            if value.kind is Kind.MOMENT:
                self.given[name] = Value(Kind.MOMENT, change(value.content))

    def value(self, node: Node, reference: Reference) -> Value:
        """The value that a reference in a step stands for."""
        value, fields = self._head(node, reference.path)
        for name in fields:
            value = field_of(value, name)
        return value

    def _head(self, node: Node, path: tuple[str, ...]) -> tuple[Value, tuple[str, ...]]:
        if path[0] == _UNIT:
            return self.given[_UNIT], path[1:]
        if path[0] in node.scope.rotors:
            unit: Unit = self.given[_UNIT].content
            rotor = unit.rotor(node.scope.rotors[path[0]])
            return Value(Kind.ROTOR, RotorOfUnit(unit, rotor)), path[1:]
        name, fields = node.scope.resolve(path, self.given)
        return self.given[name], fields

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
