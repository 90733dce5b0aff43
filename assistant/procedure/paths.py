"""Check the ways through a joined program: nothing unreachable, no loop without a limit."""

from __future__ import annotations

import graphlib
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from assistant.procedure.model import End, Hold, Repeat
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.ways import Arrival, arrivals, told

__all__ = ["check_paths", "reached_from"]


def check_paths(program: Program) -> Iterator[Problem]:
    """A loop without a limit, steps from which no end is left, and steps that are never reached.

    Of several loops without a limit one is told at a time.
    """
    reached = reached_from([program.start], _ways_on(program))
    # First what the others often come from.
    yield from _endless_loop(program)
    yield from _stuck(program, reached)
    for node in program.nodes.values():
        if node.name not in reached:
            yield _at(node, "is never reached: let a step go to it, or remove it", "unreachable")


def _at(node: Node, message: str, rule: str, way: tuple[str, ...] = ()) -> Problem:
    return Problem(node.step.place, f"step '{node.step.name}' {message}", rule, way=way)


def _ways_on(program: Program) -> dict[str, list[str]]:
    return {name: list(node.targets.values()) for name, node in program.nodes.items()}


def _ways_back(program: Program) -> dict[str, list[str]]:
    back: dict[str, list[str]] = {name: [] for name in program.nodes}
    for name, targets in _ways_on(program).items():
        for target in targets:
            back[target].append(name)
    return back


def reached_from(starts: Iterable[str], ways: Mapping[str, Iterable[str]]) -> set[str]:
    """Everything that can be reached along the ways, the starts too."""
    waiting = list(starts)
    reached = set(waiting)
    while waiting:
        new = set(ways[waiting.pop()]) - reached
        reached |= new
        waiting.extend(new)
    return reached


def _free_targets(node: Node) -> list[str]:
    """Where a step goes on without a limit and without anybody's decision to carry on."""
    if isinstance(node.step.action, Hold):
        return []
    if isinstance(node.step.action, Repeat):
        return [node.targets["otherwise"]]
    return list(node.targets.values())


def _endless_loop(program: Program) -> Iterator[Problem]:
    free = {name: _free_targets(node) for name, node in program.nodes.items()}
    try:
        graphlib.TopologicalSorter(free).prepare()
    except graphlib.CycleError as error:
        # The sorter goes from each step to what must stand before it: its loops run backwards.
        loop = [program.nodes[name] for name in reversed(error.args[1])]
        first = min(range(len(loop) - 1), key=lambda index: loop[index].step.place)
        turned = [*loop[first:-1], *loop[: first + 1]]
        names = " → ".join(node.step.name for node in turned)
        message = f"the loop {names} has no limit: go back with 'repeat:' and 'at-most:'"
        yield Problem(turned[0].step.place, message, "loop-limit", way=_told_round(turned))


def _told_round(loop: list[Node]) -> tuple[str, ...]:
    """A loop, from a step back to the same step, as a way."""
    arrival = Arrival(loop[0], None)
    for node, following in pairwise(loop):
        outcome = next(one for one, target in node.targets.items() if target == following.name)
        arrival = Arrival(following, None, arrival, outcome)
    return told(arrival)


def _stuck(program: Program, reached: set[str]) -> Iterator[Problem]:
    """Steps from which the end of the job cannot be reached."""
    ends = [name for name, node in program.nodes.items() if isinstance(node.step.action, End)]
    stuck = reached - reached_from(ends, _ways_back(program))
    if not stuck:
        return
    ways = arrivals(program, None, lambda _node, _outcome, state: state)
    nearest = next(arrival for arrival in ways if arrival.node.name in stuck)
    for name, node in program.nodes.items():
        if name in stuck:
            # One way is enough: the others lead through the nearest step or one beside it.
            way = told(nearest) if node is nearest.node else ()
            message = "can never lead to the end of the job: let a way lead there"
            yield _at(node, message, "no-end", way)
