"""Check that every name in a joined program means something wherever it is used.

A name must exist, have the fields that are asked of it, be of the kind that is needed, and have
been given a value on *every* path that leads to its use: a text can then never fail during a job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.fields import nearest
from assistant.procedure.model import Ask, Compute
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import Use, assigned_by, uses_at_end, uses_at_start
from assistant.procedure.values import FIELDS, Kind
from assistant.procedure.ways import arrivals, told

__all__ = ["check_names", "kind_of", "kinds_of"]

Kinds = Mapping[str, Kind]
"""The kinds of the names that steps give values, as known in the whole program."""

Given = frozenset[str]
"""Names that have a value."""

GivenAt = Callable[[Node, Given], Given]
"""From what has a value when a step is reached to what has one where a step uses it."""


def check_names(program: Program) -> Iterator[Problem]:
    """Every name that means nothing, or not what is needed, where it is used."""
    kinds = kinds_of(program)
    yield from _clashes(program, kinds)
    # Nothing is known of a step that no path reaches; that it is not reached is another problem.
    given = dict.fromkeys(program.nodes, frozenset(kinds)) | _given_on_every_path(program)
    for node in program.nodes.values():
        for uses, given_at in ((uses_at_start, _given_at_start), (uses_at_end, _given_at_end)):
            for use in uses(node):
                place = use.reference.place
                message = _fault_of_head(node, use, kinds) or _fault_of_fields(node, use, kinds)
                if message:
                    yield Problem(place, message, "name")
                elif name := _without_value(node, use, kinds, given_at(node, given[node.name])):
                    way = _way_without(program, node, name, given_at)
                    yield Problem(place, _may_have_no_value(use), "name", way=way)


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


def _given_after(node: Node, outcome: str, before: Given) -> Given:
    given = before | {name for name, _ in assigned_by(node)}
    match node.step.action:
        case Compute(computation=computation, into=str(into)):
            if outcome in COMPUTATIONS[computation].without_result:
                return given - {node.scope.absolute(into)}
        case Ask(into=str(into), instead=instead) if outcome in instead:
            return given - {node.scope.absolute(into)}
    return given


def _given_at_start(_node: Node, before: Given) -> Given:
    return before


def _given_at_end(node: Node, before: Given) -> Given:
    """The names that have a value when a step is done, whatever its outcome."""
    given = before | {name for name, _ in assigned_by(node)}
    for outcome in node.targets:
        given &= _given_after(node, outcome, before)
    return given


def _given_on_every_path(program: Program) -> dict[str, Given]:
    """For each node that is reached the names that have a value whichever way it was reached."""
    given: dict[str, Given] = {program.start: frozenset(program.procedure.papers)}
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


def _way_without(program: Program, node: Node, name: str, given_at: GivenAt) -> tuple[str, ...]:
    """A shortest way to a step that uses a name without giving the name a value."""

    def leave(left: Node, outcome: str, given: Given) -> Given:
        return _given_after(left, outcome, given) & {name}

    for arrival in arrivals(program, frozenset(program.procedure.papers) & {name}, leave):
        if arrival.node is node and name not in given_at(node, arrival.state):
            return told(arrival)
    return ()


def _without_value(node: Node, use: Use, kinds: Kinds, given: Given) -> str | None:
    """The name that is used where it may have no value; None where it has one."""
    if _is_given_elsewhere(node, use.reference.path[0]):
        return None
    name, _ = node.scope.resolve(use.reference.path, kinds)
    return name if name not in given else None


def _may_have_no_value(use: Use) -> str:
    return (
        f"'{use.reference.path[0]}' may have no value yet here: some path leads here without "
        "giving it one; let every path pass the step that gives it"
    )


def _is_given_elsewhere(node: Node, name: str) -> bool:
    """Whether it is the unit, a rotor, or a value that was passed, which is checked at the call."""
    return name == "unit" or name in node.scope.rotors or name in node.scope.passed


def _fault_of_head(node: Node, use: Use, kinds: Kinds) -> str | None:
    head = use.reference.path[0]
    if _is_given_elsewhere(node, head):
        return None
    absolute, _ = node.scope.resolve(use.reference.path, kinds)
    if absolute not in kinds:
        known = ["unit", *node.scope.rotors, *_names_in_scope(node, kinds)]
        return f"nothing is called '{head}' here; {nearest(head, known)}"
    return None


def _fault_of_fields(node: Node, use: Use, kinds: Kinds) -> str | None:
    kind, names = kind_of(node, use.reference.path, kinds)
    if kind is None:
        return None  # nothing is called so, which is told where it is passed
    for name in names:
        fields = FIELDS.get(kind, {})
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
