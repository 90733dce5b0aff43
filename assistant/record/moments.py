"""Moments for a reader."""

from __future__ import annotations

from datetime import UTC, datetime

__all__ = ["moment"]


def moment(time: str) -> str:
    """A time as the journal holds it, in UTC and to the second; what is no time as it stands.

    >>> moment("2031-05-14T08:02:11.250Z")
    '2031-05-14 08:02:11 UTC'
    """
    try:
        told = datetime.fromisoformat(time)
    except ValueError:
        return time
    if told.tzinfo is None:
        return time
    return f"{told.astimezone(UTC):%Y-%m-%d %H:%M:%S} UTC"
