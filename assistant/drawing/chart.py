"""What is in a diagram: boxes, arcs from one to another, and groups of boxes."""

from __future__ import annotations

import enum
from collections.abc import Iterator
from dataclasses import dataclass

__all__ = ["Arc", "Box", "Chart", "Form", "Group", "Item", "boxes_of"]


class Form(enum.StrEnum):
    """What a box stands for; each has an outline of its own."""

    TELL = "tell"
    ASK = "ask"
    COMPUTE = "compute"
    BRANCH = "branch"
    REPEAT = "repeat"
    HOLD = "hold"
    CALL = "call"
    END = "end"
    RETURN = "return"


@dataclass(frozen=True, slots=True)
class Box:
    """A step, or a way out of a part.

    Args:
        key: the name of the step in the whole program; of a way out, ``return`` and the outcome.
        number: of the step, counted in the order of speech; None for a way out.
        name: its name in its own file.
        form: what it is.
        kind: the same in a few words: the kind of question, the computation, the limit.
        notices: warnings and cautions, each as ``Caution`` and its text.
        acts: what it has the technician do to the valve.
        says: what is spoken, or why the job is held; names in braces, as in the file.
        deviation: what it records as a deviation; empty for none.
        is_gate: whether the job comes back here when something of the gate is missing.
    """

    key: str
    number: int | None
    name: str
    form: Form
    kind: str
    notices: tuple[tuple[str, str], ...] = ()
    acts: tuple[str, ...] = ()
    says: str = ""
    deviation: str = ""
    is_gate: bool = False


@dataclass(frozen=True, slots=True)
class Arc:
    """The way from one box to another after an outcome; ``next`` where nothing is decided."""

    source: str
    outcome: str
    target: str


@dataclass(frozen=True, slots=True)
class Group:
    """A call of a part that is opened: the box of the call, and what is in the part."""

    call: Box
    title: str
    items: tuple[Item, ...]


Item = Box | Group


@dataclass(frozen=True, slots=True)
class Chart:
    """A diagram.

    Args:
        title: of the procedure or part.
        subtitle: its name, its revision, and what is drawn of it.
        items: boxes and groups in the order of speech.
        arcs: every way from box to box.
    """

    title: str
    subtitle: str
    items: tuple[Item, ...]
    arcs: tuple[Arc, ...]

    @property
    def boxes(self) -> tuple[Box, ...]:
        """Every box, in the order of speech."""
        return tuple(boxes_of(self.items))


def boxes_of(items: tuple[Item, ...]) -> Iterator[Box]:
    """The boxes of items and of the groups among them."""
    for item in items:
        if isinstance(item, Box):
            yield item
        else:
            yield item.call
            yield from boxes_of(item.items)
