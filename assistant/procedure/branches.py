"""Check that a branch says where to go for every text that its value can be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.fields import nearest, quoted
from assistant.procedure.model import Ask, AskKind, Branch, Reference
from assistant.procedure.names import kind_of, kinds_of
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import assigned_by
from assistant.procedure.values import FIELDS, Kind

__all__ = ["check_branches"]

Texts = Mapping[str, list[frozenset[str]]]
"""For each name, what each step that gives it a value can give; an empty set is any text."""


def check_branches(program: Program) -> Iterator[Problem]:
    """Texts that a branch can meet and does not name, or names and cannot meet."""
    texts = _texts(program)
    kinds = kinds_of(program)
    for node in program.nodes.values():
        if isinstance(node.step.action, Branch):
            yield from _faults(node, node.step.action.on, texts, kinds)


def _faults(
    node: Node, on: Reference, texts: Texts, kinds: Mapping[str, Kind]
) -> Iterator[Problem]:
    possible = _possible(node, on, texts, kinds)
    if not possible:
        message = (
            f"'{on}' can be any text: branch on the answer to a question of the kind choice or "
            "yes-no, or on a field of few words, as unit.seating"
        )
        yield Problem(on.place, message, "branch")
        return
    go = node.step.go
    for missing in sorted(possible - go.keys()):
        yield Problem(on.place, f"'{on}' can be '{missing}': say where to 'go:' then", "go")
    for extra in sorted(go.keys() - possible):
        message = f"'{on}' is never {quoted(extra)}; {nearest(extra, possible)}"
        yield Problem(go[extra].place, message, "go")


def _possible(node: Node, on: Reference, texts: Texts, kinds: Mapping[str, Kind]) -> frozenset[str]:
    """Every text that a reference can stand for; empty where that is not known."""
    kind, fields = kind_of(node, on.path, kinds)
    if len(fields) == 1 and kind is not None:
        field = FIELDS.get(kind, {}).get(fields[0])
        return field.options if field else frozenset()
    given = texts.get(node.scope.resolve(on.path, texts)[0], [])
    return frozenset().union(*given) if all(given) and not fields else frozenset()


def _texts(program: Program) -> Texts:
    texts: dict[str, list[frozenset[str]]] = {}
    for node in program.nodes.values():
        for name, _ in assigned_by(node):
            texts.setdefault(name, []).append(_answers(node))
    return texts


def _answers(node: Node) -> frozenset[str]:
    match node.step.action:
        case Ask(kind=AskKind.CHOICE, choices=choices):
            return frozenset(choices)
        case Ask(kind=AskKind.YES_NO):
            return frozenset({"yes", "no"})
        case Ask(kind=AskKind.DONE | AskKind.MARK as kind):
            return frozenset({kind.value})
        case Ask(kind=AskKind.AGREEMENT):
            return frozenset({"agreed", "not-agreed"})
    return frozenset()
