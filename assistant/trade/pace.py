"""How fast an intermediate shaft may be turned."""

from __future__ import annotations

import math

__all__ = ["SHAFT_LIMIT_RPM", "least_seconds", "rpm", "too_fast"]

SHAFT_LIMIT_RPM = 200.0
"""Fastest an intermediate shaft may be turned (common practice)."""


def least_seconds(revolutions: float) -> float:
    """Shortest time in which a shaft may make these revolutions [s].

    Raises:
        ValueError: the count is negative or not finite.

    >>> least_seconds(10)
    3.0
    """
    _refuse_uncountable(revolutions)
    return revolutions * 60 / SHAFT_LIMIT_RPM


def rpm(turns: float, seconds: float) -> float:
    """Mean speed from counted turns [1/min].

    Args:
        turns: revolutions counted.
        seconds: time that they took [s].

    Raises:
        ValueError: the count is negative or not finite, or the time is not positive.

    >>> round(rpm(10, 2.9))
    207
    """
    _refuse_uncountable(turns)
    if not 0 < seconds < math.inf:
        raise ValueError(f"No speed comes from {seconds} seconds: give a time of more than 0.")
    return 60 * turns / seconds


def too_fast(speed: float) -> bool:
    """Whether a speed [1/min] is above the limit; exactly on it is allowed.

    What is no number counts as too fast.
    """
    return not speed <= SHAFT_LIMIT_RPM


def _refuse_uncountable(turns: float) -> None:
    if not 0 <= turns < math.inf:
        raise ValueError(f"{turns} turns cannot be counted: give 0 or more.")
