"""What is known of the valve as a procedure is gone through, step by step.

The session goes by these three while a job runs, and the rules of safety go by them over every way
that a job could take, so that both agree on what is forbidden where.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.procedure.deeds import AT_THE_END, ActKind, Fact, after, missing, proved
from assistant.procedure.model import End, Step

__all__ = ["begun", "lacking", "lacking_for", "left"]


def lacking(step: Step, known: frozenset[Fact]) -> tuple[Fact, ...]:
    """The facts without which a step is forbidden and that are not known, in a fixed order."""
    if isinstance(step.action, End):
        return tuple(instead for fact, instead in AT_THE_END.items() if fact in known)
    return lacking_for((act.kind for act in step.acts), known)


def lacking_for(acts: Iterable[ActKind], known: frozenset[Fact]) -> tuple[Fact, ...]:
    """The same for acts that are done one after the other."""
    found: set[Fact] = set()
    for act in acts:
        found.update(missing(act, known))
        known = after(act, known)
    return tuple(fact for fact in Fact if fact in found)


def begun(step: Step, known: frozenset[Fact]) -> frozenset[Fact]:
    """What is known once a step was begun and its acts were asked for."""
    for act in step.acts:
        known = after(act.kind, known)
    return known


def left(step: Step, outcome: str, known: frozenset[Fact]) -> frozenset[Fact]:
    """What is known once a step was left by an outcome.

    What it could have proved and did not is not known any more.
    """
    known -= {fact for facts in step.proves.values() for fact in facts}
    return proved(step.proves.get(outcome, ()), known)
