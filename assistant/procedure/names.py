"""Check that every name in a joined program means something wherever it is used.

A name must exist, have the fields that are asked of it, be of the kind that is needed, and have
been given a value on *every* path that leads to its use: a text can then never fail during a job.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.fields import nearest
from assistant.procedure.model import Ask, Compute
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import Use, assigned_by, uses_at_end, uses_at_start
from assistant.procedure.values import FIELDS, Kind

__all__ = ["check_names", "kind_of", "kinds_of"]

Kinds = Mapping[str, Kind]
"""The kinds of the names that steps give values, as known in the whole program."""


def check_names(program: Program) -> Iterator[Problem]:
    """Every name that means nothing, or not what is needed, where it is used."""
    kinds = kinds_of(program)
    yield from _clashes(program, kinds)
    # Nothing is known of a step that no path reaches; that it is not reached is another problem.
    given = dict.fromkeys(program.nodes, frozenset(kinds)) | _given_on_every_path(program)
    for node in program.nodes.values():
        yield from _faults(node, uses_at_start(node), kinds, given[node.name])
        yield from _faults(node, uses_at_end(node), kinds, _given_at_end(node, given[node.name]))


def kinds_of(program: Program) -> Kinds:
    """The kind of every name that the papers or a step give a value."""
    kinds = dict(program.procedure.papers)
    for node in program.nodes.values():
        for name, kind in assigned_by(node):
            kinds.setdefault(name, kind)
    return kinds


def _clashes(program: Program, kinds: Kinds) -> Iterator[Problem]:
    for node in program.nodes.values():
        for absolute, kind in assigned_by(node):
            name = absolute.rpartition("/")[2]
            if (name == "unit" and kind is not Kind.UNIT) or name in node.scope.rotors:
                message = f"'{name}' is taken: choose another name"
                yield Problem(node.step.place, message, "name")
            elif kinds[absolute] is not kind:
                message = (
                    f"'{name}' is of the kind {kinds[absolute]} elsewhere and {kind} here: "
                    "use two names"
                )
                yield Problem(node.step.place, message, "name")


def _given_after(node: Node, outcome: str, before: frozenset[str]) -> frozenset[str]:
    given = before | {name for name, _ in assigned_by(node)}
    match node.step.action:
        case Compute(computation=computation, into=str(into)):
            if outcome in COMPUTATIONS[computation].without_result:
                return given - {node.scope.absolute(into)}
        case Ask(into=str(into), instead=instead) if outcome in instead:
            return given - {node.scope.absolute(into)}
    return given


def _given_at_end(node: Node, before: frozenset[str]) -> frozenset[str]:
    """The names that have a value when a step is done, whatever its outcome."""
    given = before | {name for name, _ in assigned_by(node)}
    for outcome in node.targets:
        given &= _given_after(node, outcome, before)
    return given


def _given_on_every_path(program: Program) -> dict[str, frozenset[str]]:
    """For each node that is reached the names that have a value whichever way it was reached."""
    given: dict[str, frozenset[str]] = {program.start: frozenset(program.procedure.papers)}
    waiting = [program.start]
    while waiting:
        node = program.nodes[waiting.pop()]
        for outcome, target in node.targets.items():
            after = _given_after(node, outcome, given[node.name])
            known = given.get(target)
            met = after if known is None else known & after
            if met != known:
                given[target] = met
                waiting.append(target)
    return given


def _faults(
    node: Node, uses: Iterator[Use], kinds: Kinds, given: frozenset[str]
) -> Iterator[Problem]:
    for use in uses:
        message = _fault_of_head(node, use, kinds, given) or _fault_of_fields(node, use, kinds)
        if message:
            yield Problem(use.reference.place, message, "name")


def _fault_of_head(node: Node, use: Use, kinds: Kinds, given: frozenset[str]) -> str | None:
    head = use.reference.path[0]
    if head == "unit" or head in node.scope.rotors:
        return None
    if head in node.scope.passed:
        return None  # what was passed is checked at the call
    absolute, _ = node.scope.resolve(use.reference.path, kinds)
    if absolute not in kinds:
        known = ["unit", *node.scope.rotors, *_names_in_scope(node, kinds)]
        return f"nothing is called '{head}' here; {nearest(head, known)}"
    if absolute not in given:
        return (
            f"'{head}' may have no value yet here: some path leads here without giving it one; "
            "let every path pass the step that gives it"
        )
    return None


def _fault_of_fields(node: Node, use: Use, kinds: Kinds) -> str | None:
    kind, names = kind_of(node, use.reference.path, kinds)
    for name in names:
        fields = FIELDS.get(kind, {}) if kind else {}
        if name not in fields:
            return (
                f"'{use.reference}': no field '{name}' in the kind {kind}; {nearest(name, fields)}"
            )
        kind = fields[name].kind
    if use.kind not in (None, kind):
        return f"'{use.reference}' is of the kind {kind}; the kind {use.kind} is needed here"
    return None


def kind_of(node: Node, path: tuple[str, ...], kinds: Kinds) -> tuple[Kind | None, tuple[str, ...]]:
    """The kind of the name that a path begins with, and the fields that follow it."""
    if path[0] == "unit":
        return Kind.UNIT, path[1:]
    if path[0] in node.scope.rotors:
        return Kind.ROTOR, path[1:]
    name, names = node.scope.resolve(path, kinds)
    return kinds.get(name), names


def _names_in_scope(node: Node, kinds: Kinds) -> list[str]:
    prefix = node.scope.prefix
    names = [name.removeprefix(prefix) for name in kinds if name.startswith(prefix)]
    return [name for name in names if "/" not in name]
