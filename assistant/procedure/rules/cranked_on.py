"""Steps that say "crank on": in the direction in which the valve was cranked before."""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Step
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.rule import Finding
from assistant.procedure.rules.said_directions import Meaning, SaidDirections, how_said, ways_of
from assistant.procedure.ways import arrivals, told

__all__ = ["goes_on", "turned_about"]

_ON = re.compile(r"\bcrank\s+(?:it\s+)?(?:slowly\s+)?(?:on|further)\b", re.IGNORECASE)


def goes_on(step: Step) -> bool:
    """Whether a step that cranks says to go on as before."""
    cranks = any(name == "toward" for act in step.acts for name, _ in act.arguments)
    return cranks and step.say is not None and _ON.search(step.say.plain) is not None


def turned_about(program: Program, said: SaidDirections) -> Iterator[Finding]:
    """Steps that say "crank on" where a way leads there from the other direction, or from none."""
    if not any(goes_on(node.step) for node in program.nodes.values()):
        return

    def left(node: Node, _outcome: str, before: Meaning) -> Meaning:
        for act, way in ways_of(node.step):
            if act.kind is not ActKind.TURN_SHAFT:
                before = said.meaning(node, way)
        by_itself = any(act.kind is ActKind.CRANK_TO_MIDDLE for act in node.step.acts)
        return () if by_itself else before

    nowhere: Meaning = ()
    found: set[str] = set()
    for arrival in arrivals(program, nowhere, left):
        node = arrival.node
        if goes_on(node.step) and node.name not in found:
            for _, way in ways_of(node.step):
                if said.meaning(node, way) != arrival.state:
                    found.add(node.name)
                    message = (
                        f"it says to crank on and does '{way}', and a way leads here on which it "
                        f"was not cranked so before: say the direction, {how_said(way)}"
                    )
                    yield Finding(node.step.place, message, told(arrival))
