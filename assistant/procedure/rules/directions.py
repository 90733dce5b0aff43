"""Directions in a procedure: what they are computed from, and which shafts are turned by them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Ask, Compute, Reference
from assistant.procedure.names import kinds_of
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import assigned_by
from assistant.procedure.values import Kind

__all__ = ["Directions", "Use", "given_for"]


@dataclass(frozen=True, slots=True)
class Use:
    """Something that is used for a rotor: its shaft is turned by it, or its direction computed.

    Args:
        rotor: the name of the unit's rotor, or of a part's input where a part is checked alone.
        name: of what is used, as known in the whole program.
        field: the field of it that is used; its own name where it has none.
        written: as it was written.
    """

    rotor: str
    name: str
    field: str
    written: Reference


class Directions:
    """What shafts are turned by in a program, and what that is computed from."""

    def __init__(self, program: Program) -> None:
        self._kinds = kinds_of(program)
        self._turns = {name: tuple(self._turned(node)) for name, node in program.nodes.items()}
        used = {turn.name for turns in self._turns.values() for turn in turns}
        self.computed = frozenset(name for name in used if self._kinds.get(name) is Kind.ADVICE)

    def turns(self, node: Node) -> tuple[Use, ...]:
        """What a step has shafts turned by."""
        return self._turns[node.name]

    def uses(self, node: Node) -> Iterator[Use]:
        """The same, and what a step computes a direction from."""
        yield from self._turns[node.name]
        match node.step.action:
            case Compute(computation="shaft-direction", inputs=inputs):
                rotor = _rotor(node, dict(inputs)["rotor"])
                yield from (
                    self._use(node, rotor, dict(inputs)[key]) for key in ("seen", "reading")
                )

    def resolve(self, node: Node, reference: Reference) -> str:
        """The name in the whole program that a reference begins with."""
        return node.scope.resolve(reference.path, self._kinds)[0]

    def _turned(self, node: Node) -> Iterator[Use]:
        for act in node.step.acts:
            if act.kind is ActKind.TURN_SHAFT:
                told = dict(act.arguments)
                yield self._use(node, _rotor(node, told["rotor"]), told["way"])

    def _use(self, node: Node, rotor: str, reference: Reference) -> Use:
        return Use(rotor, self.resolve(node, reference), reference.path[-1], reference)


def given_for(node: Node, name: str) -> str | None:
    """The rotor about which a step asks or computes what it calls so; None where it does not.

    All contacts of the unit together are of no rotor.
    """
    if name not in {given for given, _ in assigned_by(node)}:
        return None
    match node.step.action:
        case Compute(computation="shaft-direction", inputs=inputs):
            return _rotor(node, dict(inputs)["rotor"])
        case Ask(of=Reference(path=(head, *_)) as of) if head != "unit":
            return _rotor(node, of)
    return None


def _rotor(node: Node, reference: Reference) -> str:
    """The unit's rotor that a reference of a step begins with."""
    return node.scope.rotor(reference.path[0])
