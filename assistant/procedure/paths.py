"""Check the ways through a joined program: nothing unreachable, no loop without a limit."""

from __future__ import annotations

import graphlib
from collections.abc import Iterable, Iterator, Mapping

from assistant.procedure.model import End, Hold, Repeat
from assistant.procedure.problems import Problem
from assistant.procedure.program import Node, Program

__all__ = ["check_paths", "reached_from"]


def check_paths(program: Program) -> Iterator[Problem]:
    """Steps that are never reached, a loop without a limit, and steps from which no end is left.

    Of several loops without a limit one is told at a time.
    """
    reached = reached_from([program.start], _ways_on(program))
    for node in program.nodes.values():
        if node.name not in reached:
            yield _at(node, "is never reached: let a step go to it, or remove it", "unreachable")
    yield from _endless_loop(program)
    yield from _stuck(program, reached)


def _at(node: Node, message: str, rule: str) -> Problem:
    return Problem(node.step.place, f"step '{node.step.name}' {message}", rule)


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
        yield Problem(
            turned[0].step.place,
            f"the loop {names} has no limit: go back with 'repeat:' and 'at-most:'",
            "loop-limit",
        )


def _stuck(program: Program, reached: set[str]) -> Iterator[Problem]:
    """Steps from which the end of the job cannot be reached."""
    ends = [name for name, node in program.nodes.items() if isinstance(node.step.action, End)]
    able = reached_from(ends, _ways_back(program))
    for name, node in program.nodes.items():
        if name in reached and name not in able:
            yield _at(node, "can never lead to the end of the job: let a way lead there", "no-end")
