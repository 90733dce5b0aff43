"""What the session asks of its own accord before something forbidden could be done.

A step asks for an act that the facts forbid when somebody went back over the steps that proved
them, or when a break was long. The session then says what is missing, and asks for it.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping

from assistant.procedure.deeds import Fact

__all__ = ["TO_BE_RESTORED", "one_by_one", "prompt_for", "to_be_restored"]


_PROMPTS: Mapping[Fact, str] = {
    Fact.ISOLATED: "Not proved dead. Is the supply isolated, locked, and proved dead?",
    Fact.RODS_ENGAGED: (
        "The shafts are not proved locked. Try to turn every shaft by hand. Are all locked?"
    ),
    Fact.ROD_OUT: "The setting rod is not pressed. Press it and turn it. Is it done?",
}

_LET_IT_IN = (
    "Turn the setting rod a quarter turn back, and let it come fully out. Then try to turn every "
    "shaft by hand. Are all locked?"
)
"""Of a rod that is known to be pressed: a shaft that turns then was not found free."""

TO_BE_RESTORED = frozenset(_PROMPTS)
"""The facts that can be asked for one by one; those of the gate are proved at the gate."""


def to_be_restored(facts: Iterable[Fact], known: Container[Fact]) -> tuple[Fact, ...]:
    """What is asked for of what is missing, one by one and in order.

    A shaft is tried with the hands in the housing: first it has to be known that it is dead.

    Args:
        facts: what is missing.
        known: what is known.
    """
    asked = {*facts}
    if Fact.RODS_ENGAGED in asked and Fact.ISOLATED not in known:
        asked.add(Fact.ISOLATED)
    return one_by_one(asked)


def one_by_one(facts: Container[Fact]) -> tuple[Fact, ...]:
    """Those of the facts that are asked for one by one, in their order."""
    return tuple(fact for fact in Fact if fact in TO_BE_RESTORED and fact in facts)


def prompt_for(fact: Fact, known: Container[Fact]) -> str:
    """Say what is missing, and ask for it."""
    if fact is Fact.RODS_ENGAGED and Fact.ROD_OUT in known:
        return _LET_IT_IN
    return _PROMPTS[fact]
