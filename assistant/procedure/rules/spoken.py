"""What is spoken at the steps of a procedure, as it was written."""

from __future__ import annotations

import enum
from collections.abc import Iterator
from dataclasses import dataclass

from assistant.procedure.model import Hold, Procedure, Step, Template
from assistant.procedure.program import Node, Program

__all__ = ["Part", "Spoken", "each_once", "spoken_at", "spoken_in"]


class Part(enum.Enum):
    """Which text of a step."""

    NOTICE = enum.auto()
    SAY = enum.auto()
    HOLD = enum.auto()


@dataclass(frozen=True, slots=True)
class Spoken:
    """A text that is spoken.

    Args:
        step: at which.
        part: which of its texts.
        template: the text.
    """

    step: Step
    part: Part
    template: Template

    @property
    def text(self) -> str:
        """The text as it was written, names in braces."""
        return self.template.plain


def spoken_at(step: Step) -> Iterator[Spoken]:
    """The texts of a step in the order in which they are spoken."""
    for notice in step.notices:
        yield Spoken(step, Part.NOTICE, notice.text)
    if step.say is not None:
        yield Spoken(step, Part.SAY, step.say)
    if isinstance(step.action, Hold):
        yield Spoken(step, Part.HOLD, step.action.reason)


def spoken_in(file: Procedure) -> Iterator[Spoken]:
    """The texts of a file."""
    for step in file.steps:
        yield from spoken_at(step)


def each_once(program: Program) -> Iterator[Node]:
    """The steps of a procedure, each where it is called first, however often it is."""
    first = {node.step.place: node for node in reversed(tuple(program.nodes.values()))}
    for node in program.nodes.values():
        if first[node.step.place] is node and node.step.place.file:
            yield node
