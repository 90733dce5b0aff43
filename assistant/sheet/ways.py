"""Where a step goes on, in words and by number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from assistant.language.speaking import say_choice
from assistant.procedure.fit import ways_on
from assistant.procedure.model import Ask, AskKind, Branch, Repeat
from assistant.procedure.program import Node
from assistant.procedure.values import say
from assistant.sheet.texts import Blank, Paper, Text

__all__ = ["Way", "ways_of"]


@dataclass(frozen=True, slots=True)
class Way:
    """One way on.

    Args:
        outcome: of the step.
        when: what is so if this way is gone; empty where there is only one.
        number: of the step to go to.
        name: of that step.
    """

    outcome: str
    when: Text
    number: int
    name: str


def ways_of(node: Node, paper: Paper) -> tuple[Way, ...]:
    """Every way on from a step that the unit leaves open."""
    return tuple(_ways(node, paper))


def _ways(node: Node, paper: Paper) -> Iterator[Way]:
    open_ = set(ways_on(node, paper.unit))
    left = {outcome: target for outcome, target in node.targets.items() if target in open_}
    if isinstance(node.step.action, Branch) and len(open_) == 1:
        # By the unit sheet, or because every way leads to the same step.
        left = dict([next(iter(left.items()))])
    for outcome, target in left.items():
        when = _when(node, outcome, paper) if len(left) > 1 else ()
        yield Way(outcome, when, paper.numbers[target], target)


def _when(node: Node, outcome: str, paper: Paper) -> Text:
    match node.step.action:
        case Repeat():
            return (
                ("a box is still empty: tick one, and",)
                if outcome == "again"
                else ("every box is ticked:",)
            )
        case Branch(on=on):
            return (paper.blank(node, on), f" is {say_choice(outcome)}:")
        case Ask(kind=AskKind.AGREEMENT):
            return ("correct:",) if outcome == "agreed" else ("wrong:",)
        case Ask(kind=AskKind.SPELLING, expect=expect) if expect is not None:
            return tuple(_match(node, outcome, paper))
    return (f"{say_choice(outcome)}:",)


def _match(node: Node, outcome: str, paper: Paper) -> Iterable[str | Blank]:
    assert isinstance(node.step.action, Ask), "only a question is answered"
    expect = node.step.action.expect
    assert expect is not None, "what is compared is compared with something"
    known = paper.value(node, expect)
    if outcome != "match":
        yield "anything else:"
    elif known:
        yield f"{known.content}, {say(known)}:"
    elif expect.path[0] == "unit":
        yield "as on the unit sheet:"
    else:
        yield paper.blank(node, expect)
        yield ":"
