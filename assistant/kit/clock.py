"""Whether the clock can be right: the record stands on it."""

from __future__ import annotations

from datetime import datetime

from assistant.kit.findings import Finding, Fitness

__all__ = ["check_clock", "confirmed", "say_time"]


def check_clock(now: datetime, installed: datetime) -> Finding:
    """Judge the clock against the moment at which this program was installed.

    A clock that lost its battery starts years back. One that is merely wrong by hours cannot be
    found without a network: the technician has to tell (`confirmed`).
    """
    if now < installed:
        says = f"The clock says {now.day} {now:%B %Y}, before this program was installed. Set it."
        return Finding("the clock", Fitness.UNFIT, says)
    return Finding("the clock", Fitness.FIT, f"The clock says {say_time(now)}.")


def confirmed(right: bool | None) -> Finding:
    """What the technician says of the clock; None where nothing was understood."""
    if right is None:
        says = "Nobody said whether the clock is right. Look at it."
        return Finding("the clock", Fitness.DOUBTFUL, says)
    if right:
        return Finding("the clock", Fitness.FIT, "The clock is right.")
    return Finding("the clock", Fitness.UNFIT, "The clock is wrong. Set it before the job.")


def say_time(now: datetime) -> str:
    """A moment as it is spoken.

    >>> say_time(datetime(2031, 5, 14, 8, 5))
    '8 hours 5, on 14 May 2031'
    """
    return f"{now.hour} hours {now.minute}, on {now.day} {now:%B %Y}"
