"""The time of an electrical stroke against the data of the sheet."""

from __future__ import annotations

from assistant.trade.drive import stroke_seconds
from assistant.trade.unit import Unit

__all__ = ["stroke_seconds", "time_differs"]


def time_differs(unit: Unit, seconds: float) -> bool:
    """Whether a measured stroke time is off by more than the sheet allows; without data never."""
    return unit.stroke_time_differs(seconds)
