"""What comes right before a step that has something done, with nothing asked or done between.

A ``mark`` question there, which has nothing done itself, announces what follows: who says *mark* as
the shaft begins to turn has begun to turn it before the step that has it turned is spoken.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping

from assistant.procedure.model import Ask, AskKind, Hold, Step
from assistant.procedure.program import Node, Program

__all__ = ["Back", "announces", "is_stop", "last_before", "right_before", "ways_back"]


def announces(step: Step) -> bool:
    """Whether a step may announce what the next one has done."""
    return isinstance(step.action, Ask) and step.action.kind is AskKind.MARK and not step.acts


Back = Mapping[str, tuple[Node, ...]]
"""For each step, by its name, the steps from which a way leads straight to it."""


def ways_back(program: Program) -> Back:
    """The ways of a program from their ends."""
    back: defaultdict[str, list[Node]] = defaultdict(list)
    for node in program.nodes.values():
        for target in node.targets.values():
            back[target].append(node)
    return {name: tuple(nodes) for name, nodes in back.items()}


def right_before(program: Program) -> Mapping[str, tuple[Node, ...]]:
    """For each step that has something done, by its name, what the ways to it come from.

    That is the last step on each way at which something is asked, done or held; the first step of
    the procedure where there is none.
    """
    back = ways_back(program)
    return {
        node.name: last_before(node, program, back, is_stop)
        for node in program.nodes.values()
        if node.step.acts
    }


def last_before(
    node: Node, program: Program, back: Back, stops: Callable[[Node], bool]
) -> tuple[Node, ...]:
    """The last step of a kind on each way to a step; the procedure's first where there is none.

    Args:
        node: where the ways lead.
        program: the procedure.
        back: its `ways_back`.
        stops: whether a step is of the kind.
    """
    waiting, found = [node], []
    seen: set[str] = set()  # a step can come before itself
    while waiting:
        here = waiting.pop()
        for one in back.get(here.name, ()):
            if one.name in seen:
                continue
            seen.add(one.name)
            if one.name == program.start or stops(one):
                found.append(one)
            else:
                waiting.append(one)
    return tuple(found)


def is_stop(node: Node) -> bool:
    """Whether something is asked, done or held at a step."""
    return bool(node.step.acts) or isinstance(node.step.action, Ask | Hold)
