"""What the session asks of its own accord before something forbidden could be done.

A step asks for an act that the facts forbid when somebody went back over the steps that proved
them, or when a break was long. The session then says what is missing, and asks for it.
"""

from __future__ import annotations

from collections.abc import Mapping

from assistant.procedure.deeds import Fact

__all__ = ["TO_BE_RESTORED", "is_long", "prompt_for"]

LONG_BREAK = 600.0
"""Seconds after which nobody can vouch for what was proved before; common practice, no source."""


def is_long(seconds: float) -> bool:
    """Whether a break was long; where the clock was set back it counts as long: nobody knows."""
    return not 0 <= seconds < LONG_BREAK


_PROMPTS: Mapping[Fact, str] = {
    Fact.ISOLATED: "Not proved dead. Is the supply isolated, locked, and proved dead?",
    Fact.RODS_ENGAGED: (
        "The shafts are not proved locked. Try to turn every shaft by hand. Are all locked?"
    ),
    Fact.ROD_OUT: "The setting rod is not pressed. Press it and turn it. Is it done?",
}

TO_BE_RESTORED = frozenset(_PROMPTS)
"""The facts that can be asked for one by one; those of the gate are proved at the gate."""


def prompt_for(fact: Fact) -> str:
    """Say what is missing, and ask for it."""
    return _PROMPTS[fact]
