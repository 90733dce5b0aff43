"""What is known of the valve on every way through a procedure.

The same rules as in a job (`known`), and harder where a job would only be saved by the session: a
hold with the supply on takes back all that was proved at the gate, and the procedure itself has to
lock off and to go through its gate again; an answer proves nothing that it does not show
(`proofs`); and with the rod out no shaft can be felt to be locked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.procedure.deeds import AT_THE_GATE, ActKind, Fact, proved
from assistant.procedure.known import begun, lacking, left
from assistant.procedure.model import End, Hold
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.proofs import unfit
from assistant.procedure.ways import Arrival, arrivals

__all__ = ["Known", "Lack", "lacks"]

_TOUCHED = frozenset({ActKind.DISENGAGE, ActKind.ENGAGE, ActKind.TRY_SHAFTS})


@dataclass(frozen=True, slots=True)
class Known:
    """What is known.

    Args:
        facts: what is known of the valve.
        touched: whether a rod was moved and the shafts were not felt to be locked since.
        live: whether the supply was switched on, and not locked off or proved dead since.
    """

    facts: frozenset[Fact] = frozenset()
    touched: bool = False
    live: bool = False


@dataclass(frozen=True, slots=True)
class Lack:
    """A step that can be reached without a fact that it needs.

    Args:
        arrival: the step, with a shortest way to it.
        fact: what is not known there.
    """

    arrival: Arrival[Known]
    fact: Fact


def lacks(program: Program) -> Iterator[Lack]:
    """Every step that can be reached without what it needs, once for each fact.

    What is missing counts as known afterwards, so that the same omission is told once.
    """
    found: set[tuple[str, Fact]] = set()
    for arrival in arrivals(program, Known(), _left):
        for fact in _lacking(arrival.node, arrival.state):
            if (arrival.node.name, fact) not in found:
                found.add((arrival.node.name, fact))
                yield Lack(arrival, fact)


def _lacking(node: Node, known: Known) -> tuple[Fact, ...]:
    missing = lacking(node.step, known.facts)
    if isinstance(node.step.action, End):
        left_so = {Fact.ISOLATED: known.live, Fact.RODS_ENGAGED: known.touched}
        missing = tuple(fact for fact in Fact if fact in missing or left_so.get(fact))
    return missing


def _left(node: Node, outcome: str, known: Known) -> Known:
    facts = begun(node.step, proved(lacking(node.step, known.facts), known.facts))
    acts = {act.kind for act in node.step.acts}
    live = (known.live or ActKind.ENERGISE in acts) and ActKind.LOCK_OFF not in acts
    if isinstance(node.step.action, Hold) and Fact.ENERGISED in facts:
        facts -= AT_THE_GATE
    facts = _shown(node, outcome, facts)
    touched = (known.touched or bool(acts & _TOUCHED)) and Fact.RODS_ENGAGED not in facts
    return Known(facts, touched, live and Fact.ISOLATED not in facts)


def _shown(node: Node, outcome: str, facts: frozenset[Fact]) -> frozenset[Fact]:
    """What is known after an outcome that proves only what it shows."""
    shown = left(node.step, outcome, facts) - {fact for fact, _ in unfit(node.step, outcome)}
    if Fact.ROD_OUT in facts:
        # It was not let in again: a shaft that seems to be locked tells nothing.
        shown = (shown | {Fact.ROD_OUT}) - {Fact.RODS_ENGAGED}
    return shown
