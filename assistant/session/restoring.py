"""What the session asks of its own accord before something forbidden could be done.

A step asks for an act that the facts forbid when somebody went back over the steps that proved
them, or when a break was long. The session then says what is missing, and asks for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from assistant.procedure.deeds import ACTS, ActKind, Fact

__all__ = ["AFTER_A_BREAK", "LONG_BREAK", "prompt_for", "with_the_gate"]

LONG_BREAK = 600.0
"""Seconds after which nobody can vouch for what was proved before; common practice, no source."""

AFTER_A_BREAK = frozenset({Fact.ISOLATED, Fact.RODS_ENGAGED})
"""What is asked again at once after a long break, if it was known before."""

_PROMPTS: Mapping[Fact, str] = {
    Fact.ISOLATED: "Not proved dead. Is the supply isolated, locked, and proved dead?",
    Fact.RODS_ENGAGED: (
        "The shafts are not proved locked. Bring the setting rod fully out, and try every shaft. "
        "Are all locked?"
    ),
    Fact.ROD_OUT: "The setting rod is not pressed. Press it and turn it. Is it done?",
    Fact.MID_TRAVEL: "Not at mid-travel. Crank it there by hand. Is it done?",
    Fact.PEOPLE_CLEAR: "People first. Is everybody clear of the valve?",
    Fact.PERMITTED: "No permission yet. Is there permission to energise?",
    Fact.ENERGISED: "The supply is off. Switch it on. Is it done?",
    Fact.ROTATION_RIGHT: "The rotation is not proved. Jog it. Did it move the right way?",
}


def prompt_for(fact: Fact) -> str:
    """Say what is missing, and ask for it."""
    return _PROMPTS[fact]


def with_the_gate(missing: Iterable[Fact], known: frozenset[Fact]) -> tuple[Fact, ...]:
    """The missing facts, and before switching on again all that switching on needs."""
    wanted = set(missing)
    if Fact.ENERGISED in wanted:
        wanted |= ACTS[ActKind.ENERGISE].needs - known
    return tuple(fact for fact in Fact if fact in wanted)
