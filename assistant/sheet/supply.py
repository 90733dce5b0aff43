"""Where in a program the motor's supply may be on, by what its steps do and prove."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.procedure.deeds import ACTS, Fact, after, proved
from assistant.procedure.model import Hold
from assistant.procedure.program import Node

__all__ = ["may_be_energised"]

_ON = frozenset({Fact.ENERGISED})
_OFF: frozenset[Fact] = frozenset()


def may_be_energised(nodes: Iterable[Node]) -> frozenset[str]:
    """The steps that can be reached with the supply on."""
    by_name = {node.name: node for node in nodes}
    found: set[str] = set()
    open_ = [name for node in by_name.values() for name in _led_to(node, _OFF)]
    while open_:
        name = open_.pop()
        if name in by_name and name not in found:
            found.add(name)
            open_.extend(_led_to(by_name[name], _ON))
    return frozenset(found)


def _led_to(node: Node, known: frozenset[Fact]) -> Iterator[str]:
    """The steps to which a step leads with the supply on."""
    if isinstance(node.step.action, Hold):
        # Whoever holds a job with the supply on is told to lock off: it counts as off from there.
        return
    for act in node.step.acts:
        if Fact.ISOLATED in ACTS[act.kind].needs:
            known = proved((Fact.ISOLATED,), known)
        known = after(act.kind, known)
    for outcome, target in node.targets.items():
        if Fact.ENERGISED in proved(node.step.proves.get(outcome, ()), known):
            yield target
