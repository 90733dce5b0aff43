"""Every way through a procedure, as far as ways differ in what a rule keeps in mind.

A rule says what it keeps in mind (a *state*: what is known of the valve, which values were not read
back) and how each step changes it. Every step is then looked at once with each state in which it
can be reached, by a shortest way. Limits of repeats are not counted and answers are not compared
with each other, so a way may be found that no job could take, but none is missed.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from assistant.procedure.model import Call
from assistant.procedure.program import Node, Program

__all__ = ["Arrival", "Leave", "arrivals", "tells", "told"]

State = TypeVar("State", bound=Hashable)

Leave = Callable[[Node, str, State], State]
"""From a step, the outcome by which it is left, and the state in which it was reached, to the
state in which it is left."""


@dataclass(frozen=True, slots=True)
class Arrival(Generic[State]):
    """A step that is reached in a state.

    Args:
        node: the step.
        state: what is kept in mind there.
        before: the arrival at the step before; None at the start.
        outcome: by which that was left.
    """

    node: Node
    state: State
    before: Arrival[State] | None = None
    outcome: str = ""


def arrivals(program: Program, at_start: State, leave: Leave[State]) -> Iterator[Arrival[State]]:
    """Each step in each state in which it can be reached, nearest to the start first.

    Args:
        program: the procedure.
        at_start: the state at the beginning.
        leave: how a step changes it.
    """
    first = Arrival(program.nodes[program.start], at_start)
    waiting = deque([first])
    seen = {(program.start, at_start)}
    while waiting:
        here = waiting.popleft()
        yield here
        for outcome, target in here.node.targets.items():
            state = leave(here.node, outcome, here.state)
            if (target, state) not in seen:
                seen.add((target, state))
                waiting.append(Arrival(program.nodes[target], state, here, outcome))


def told(arrival: Arrival[State]) -> tuple[str, ...]:
    """The way to a step, a line for each step on it that decides, does or proves something.

    Steps with one way on that only say or compute something are counted instead, so that a way of
    a hundred steps can be followed.
    """
    passed: list[tuple[Node, str]] = []
    here, outcome = arrival, ""
    while True:
        passed.append((here.node, outcome))
        if here.before is None:
            break
        here, outcome = here.before, here.outcome
    lines: list[str] = []
    silent = 0
    for node, outcome in reversed(passed):
        if outcome and not tells(node, outcome):
            silent += 1
            continue
        if silent:
            lines.append(f"({silent} step{'' if silent == 1 else 's'} with one way on)")
            silent = 0
        lines.append(_line(node, outcome))
    return tuple(lines)


def tells(node: Node, outcome: str) -> bool:
    """Whether a step, left by this outcome, has a line of its own in a way that is told."""
    return bool(node.step.acts) or (
        len(node.targets) > 1 and not isinstance(node.step.action, Call)
    )


def _line(node: Node, outcome: str) -> str:
    acts = ", ".join(act.kind.value for act in node.step.acts)
    proved = ", ".join(node.step.proves.get(outcome, ()))
    pieces = (
        f"{node.step.place}: {node.name}",
        f"does {acts}" if acts else "",
        f"'{outcome}'" if outcome and len(node.targets) > 1 else "",
        f"proves {proved}" if proved else "",
    )
    return "; ".join(piece for piece in pieces if piece)
