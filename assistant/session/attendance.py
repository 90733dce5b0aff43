"""How long nobody was heard, and when that was a break.

After a long break nobody can vouch for what was proved before it. Work that was asked for is none:
who cranks a large valve by hand, or goes to lock a supply off, says nothing for a quarter of an
hour.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.procedure.deeds import ActKind

__all__ = ["LONGEST_WORK", "LONG_BREAK", "is_long", "takes_long"]

LONG_BREAK = 600.0
"""Seconds after which nobody can vouch for what was proved before; common practice, no source."""

LONGEST_WORK = 1800.0
"""Seconds that work which was asked for may take: 800 turns of a handwheel at 30 a minute are 27
minutes. Common practice, no source."""

_BY_HAND = frozenset(
    {ActKind.CRANK, ActKind.CRANK_SLOWLY, ActKind.CRANK_TO_MIDDLE, ActKind.CRANK_TO_STOP}
)


def is_long(seconds: float, limit: float = LONG_BREAK) -> bool:
    """Whether a break was long; where the clock was set back it counts as long: nobody knows.

    Args:
        seconds: how long nobody was heard.
        limit: from how many seconds on it is long.
    """
    return not 0 <= seconds < limit


def takes_long(acts: Iterable[ActKind]) -> bool:
    """Whether one of these acts may take longer than a long break."""
    return not _BY_HAND.isdisjoint(acts)
