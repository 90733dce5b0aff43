"""What comes right before a step that has something done, with nothing asked or done between.

A ``mark`` question there, which has nothing done itself, announces what follows: who says *mark* as
the shaft begins to turn has begun to turn it before the step that has it turned is spoken.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from assistant.procedure.model import Ask, AskKind, Hold, Step
from assistant.procedure.program import Node, Program

__all__ = ["announces", "right_before"]


def announces(step: Step) -> bool:
    """Whether a step may announce what the next one has done."""
    return isinstance(step.action, Ask) and step.action.kind is AskKind.MARK and not step.acts


def right_before(program: Program) -> Mapping[str, tuple[Node, ...]]:
    """For each step that has something done, by its name, what the ways to it come from.

    That is the last step on each way at which something is asked, done or held; the first step of
    the procedure where there is none.
    """
    back: defaultdict[str, list[Node]] = defaultdict(list)
    for node in program.nodes.values():
        for target in node.targets.values():
            back[target].append(node)
    return {
        node.name: tuple(_before(node, program, back))
        for node in program.nodes.values()
        if node.step.acts
    }


def _before(node: Node, program: Program, back: Mapping[str, list[Node]]) -> list[Node]:
    waiting, seen, found = [node], {node.name}, []
    while waiting:
        here = waiting.pop()
        for one in back.get(here.name, ()):
            if one.name in seen:
                continue
            seen.add(one.name)
            if one.name == program.start or _stops(one.step):
                found.append(one)
            else:
                waiting.append(one)
    return found


def _stops(step: Step) -> bool:
    return bool(step.acts) or isinstance(step.action, Ask | Hold)
