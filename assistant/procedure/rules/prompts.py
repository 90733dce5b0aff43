"""The prompts of a step as they are spoken, with the longest values in the places of names."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.procedure.longest import filled
from assistant.procedure.model import Hold
from assistant.procedure.problems import Place
from assistant.procedure.program import Node, Program
from assistant.procedure.values import Kind

__all__ = ["Prompt", "prompts_at"]


@dataclass(frozen=True, slots=True)
class Prompt:
    """What is spoken in one piece.

    Args:
        place: where it is written.
        text: what is spoken.
    """

    place: Place
    text: str


def prompts_at(
    node: Node, program: Program, kinds: Mapping[str, Kind], after_hold: str
) -> Iterator[Prompt]:
    """The prompts of a step, in their order.

    Args:
        node: the step.
        program: the procedure.
        kinds: of the names in it (see `names.kinds_of`).
        after_hold: what is said after the text of a hold, if anything.
    """
    for notice in node.step.notices:
        text = filled(notice.text, node, program, kinds)
        yield Prompt(notice.text.place, f"{notice.kind.value.capitalize()}. {text}")
    if node.step.say is not None:
        yield Prompt(node.step.say.place, filled(node.step.say, node, program, kinds))
    if isinstance(node.step.action, Hold):
        reason = node.step.action.reason
        yield Prompt(reason.place, filled(reason, node, program, kinds))
        if after_hold:
            yield Prompt(reason.place, after_hold)
