"""What a step uses, and what it gives a value to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain

from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.deeds import ACTS
from assistant.procedure.model import (
    Ask,
    AskKind,
    Branch,
    Compute,
    Hold,
    Reference,
    Step,
    Template,
)
from assistant.procedure.program import Node
from assistant.procedure.values import Kind

__all__ = ["KIND_OF_ANSWER", "Use", "assigned_by", "uses_at_end", "uses_at_start", "uses_of"]

KIND_OF_ANSWER: Mapping[AskKind, Kind] = {
    AskKind.DONE: Kind.TEXT,
    AskKind.YES_NO: Kind.TEXT,
    AskKind.CONTACTS: Kind.READING,
    AskKind.ROTATION: Kind.ROTATION,
    AskKind.NUMBER: Kind.NUMBER,
    AskKind.CHOICE: Kind.TEXT,
    AskKind.MARK: Kind.TEXT,
    AskKind.SPELLING: Kind.LETTERS,
    AskKind.LAMPS: Kind.LAMPS,
    AskKind.AGREEMENT: Kind.TEXT,
}
"""Of the value that the answer gives, by the kind of question."""

_OF_KIND: Mapping[AskKind, Kind] = {
    AskKind.CONTACTS: Kind.CONTACTS,
    AskKind.ROTATION: Kind.ROTOR,
    AskKind.LAMPS: Kind.UNIT,
}
"""What the question of each kind is about."""


@dataclass(frozen=True, slots=True)
class Use:
    """A reference, and the kind that it must be of; None where any will do."""

    reference: Reference
    kind: Kind | None = None


def assigned_by(node: Node) -> tuple[tuple[str, Kind], ...]:
    """The names that a step gives a value, as known in the whole program, and their kinds."""
    absolute = node.scope.absolute
    match node.step.action:
        case Ask(kind=kind, into=into, when=when):
            answer = [(absolute(into), KIND_OF_ANSWER[kind])] if into else []
            moment = [(absolute(when), Kind.MOMENT)] if when else []
            return (*answer, *moment)
        case Compute(computation=computation, into=into, because=because):
            result = COMPUTATIONS[computation].result
            found = [(absolute(into), result)] if into and result else []
            reasons = [(absolute(because), Kind.TEXT)] if because else []
            return (*found, *reasons)
    return ()


def uses_of(node: Node) -> Iterator[Use]:
    """Everything that a step uses."""
    return chain(uses_at_start(node), uses_at_end(node))


def uses_at_start(node: Node) -> Iterator[Use]:
    """What must have a value when a step begins."""
    yield from map(Use, _spoken(node.step))
    for passed in node.passes:
        yield Use(passed.reference, passed.kind)
    for act in node.step.acts:
        for name, reference in act.arguments:
            yield Use(reference, ACTS[act.kind].arguments[name])
    match node.step.action:
        case Ask(of=Reference() as of, kind=kind):
            yield Use(of, _OF_KIND[kind])
        case Ask(expect=Reference() as expect):
            yield Use(expect, Kind.LETTERS)
        case Ask(most=Reference() as most):
            yield Use(most, Kind.NUMBER)
        case Compute(computation=name, inputs=inputs):
            for key, reference in inputs:
                yield Use(reference, COMPUTATIONS[name].inputs[key])
        case Branch(on=reference):
            yield Use(reference, Kind.TEXT)


def uses_at_end(node: Node) -> Iterator[Use]:
    """What must have a value when a step is done: it may record its own answer."""
    return (Use(record.value) for record in node.step.records)


def _spoken(step: Step) -> Iterator[Reference]:
    """The references in everything that a step says."""
    texts: list[Template | None] = [
        step.say,
        step.deviation,
        *(notice.text for notice in step.notices),
    ]
    if isinstance(step.action, Hold):
        texts.append(step.action.reason)
    for text in texts:
        yield from text.references if text else ()
