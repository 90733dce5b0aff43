"""The time of the electrical stroke against the data of the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.record.recorded import Recorded, last_named
from assistant.record.words import clean, number_of
from assistant.trade.unit import Unit

__all__ = ["StrokeTime", "stroke_time"]


@dataclass(frozen=True, slots=True)
class StrokeTime:
    """How long a full electrical stroke took.

    Args:
        seconds: as it was measured.
        data: seconds by the sheet, None where it has none.
        origin: where the sheet has them from.
        tolerance: how far off the time may be, in percent.
        within: whether it is not further off; None without data.
    """

    seconds: float
    data: float | None
    origin: str
    tolerance: float
    within: bool | None


def stroke_time(unit: Unit, recorded: Sequence[Recorded]) -> StrokeTime | None:
    """The stroke time that was recorded last, if one was."""
    value = last_named(recorded, "stroke-time")
    match value and value.written:
        case {"number": number, "unit": "seconds"}:
            seconds = number_of(number)
        case _:
            seconds = None
    if seconds is None:
        return None
    data = unit.stroke_seconds
    tolerance = unit.stroke_time_tolerance.value
    if data is None:
        return StrokeTime(seconds, None, "", tolerance, None)
    within = not unit.stroke_time_differs(seconds)
    return StrokeTime(seconds, data.value, clean(data.origin), tolerance, within)
