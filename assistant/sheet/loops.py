"""How often a step may come in loops, so that there are blanks for each time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from assistant.procedure.model import Call, Hold, Repeat
from assistant.procedure.program import Node

__all__ = ["MOST_LINES", "times_of"]

MOST_LINES = 6
"""Blanks for one step; what comes oftener is continued on a page of its own."""


def times_of(nodes: Iterable[Node]) -> Mapping[str, int]:
    """For each step the number of times that a loop around it allows, at most `MOST_LINES`.

    Of several loops it is the one that allows most. A loop is what lies between a repeat and the
    step that it goes back to, in one file, with the parts that are called in it; the way through a
    hold is none, because a hold has no limit.
    """
    by_name = {node.name: node for node in nodes}
    ways = {name: _ways(node, by_name) for name, node in by_name.items()}
    loops = [_loop(node, ways) for node in by_name.values() if isinstance(node.step.action, Repeat)]
    times = dict.fromkeys(by_name, 1)
    for steps, at_most in loops:
        for name in steps:
            times[name] = max(times[name], min(1 + at_most, MOST_LINES))
    for name, node in by_name.items():  # a call stands before the steps of its part
        times[name] = max(times[name], times.get(node.scope.prefix.rstrip("/"), 1))
    return times


def _ways(node: Node, by_name: Mapping[str, Node]) -> frozenset[str]:
    """The steps of the same file that can follow."""
    if isinstance(node.step.action, Hold):
        return frozenset()
    targets = node.after if isinstance(node.step.action, Call) else node.targets
    return frozenset(
        target
        for target in targets.values()
        if target in by_name and by_name[target].scope.prefix == node.scope.prefix
    )


def _loop(node: Node, ways: Mapping[str, frozenset[str]]) -> tuple[frozenset[str], int]:
    assert isinstance(node.step.action, Repeat), "only repeats make loops"
    head = node.targets["again"]
    onward = _reached(head, ways, node.name) if head in ways else frozenset()
    back: dict[str, set[str]] = {}
    for name, targets in ways.items():
        for target in targets:
            back.setdefault(target, set()).add(name)
    backward = _reached(node.name, {name: frozenset(found) for name, found in back.items()}, head)
    return (onward & backward) | {node.name}, node.step.action.at_most


def _reached(start: str, ways: Mapping[str, frozenset[str]], stop: str) -> frozenset[str]:
    """What can be reached, not going on beyond `stop`."""
    found, open_ = {start}, [start]
    while open_:
        name = open_.pop()
        if name == stop:
            continue
        for target in ways.get(name, frozenset()) - found:
            found.add(target)
            open_.append(target)
    return frozenset(found)
