"""Handwheel turns and percent of travel."""

from __future__ import annotations

import math

from assistant.trade.development import FULL_OPEN

__all__ = ["TravelError", "quarter_turns", "to_percent", "to_turns"]

_QUARTERS = 4
_ROUNDING = 1e-9


class TravelError(ValueError):
    """A travel that cannot be reckoned, or a rotor that is set in another way."""


def to_turns(percent: float, stroke_turns: float) -> float:
    """Handwheel turns that make up a part of the travel.

    Args:
        percent: part of the travel [%]; negative for the other direction.
        stroke_turns: handwheel turns of the full stroke.

    Raises:
        TravelError: a value is not finite, or the stroke is not positive.

    >>> to_turns(25, 48)
    12.0
    """
    _refuse_unreckonable(percent, stroke_turns)
    return percent / FULL_OPEN * stroke_turns


def to_percent(turns: float, stroke_turns: float) -> float:
    """Part of the travel that handwheel turns make up, in percent.

    Args:
        turns: handwheel turns; negative for the other direction.
        stroke_turns: handwheel turns of the full stroke.

    Raises:
        TravelError: a value is not finite, or the stroke is not positive.

    >>> to_percent(12, 48)
    25.0
    """
    _refuse_unreckonable(turns, stroke_turns)
    return turns / stroke_turns * FULL_OPEN


def quarter_turns(turns: float) -> float:
    """The nearest quarter turn, which is what a person can count (common practice, no source).

    A tie goes up.

    Raises:
        TravelError: the count is not finite.

    >>> quarter_turns(28.8)
    28.75
    """
    _refuse_uncountable(turns)
    # A tie that comes out of a sum may fall short by the rounding of binary numbers.
    return math.floor(turns * _QUARTERS + 0.5 + _ROUNDING) / _QUARTERS


def _refuse_unreckonable(amount: float, stroke_turns: float) -> None:
    _refuse_uncountable(amount)
    if not 0 < stroke_turns < math.inf:
        raise TravelError(f"A full stroke of {stroke_turns} turns is impossible: give more than 0.")


def _refuse_uncountable(amount: float) -> None:
    if not math.isfinite(amount):
        raise TravelError(f"{amount} is no amount of travel: give a number.")
