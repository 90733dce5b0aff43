"""Whether a number lies between two limits; either limit itself counts as within."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.speaking import say_count, say_number
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.values import Kind

__all__ = ["LIMITS", "ONE_UNIT"]

_ROUNDING = 1e-9
"""By which two numbers may differ that were written as the same."""

ONE_UNIT = ("number", "least", "most")
"""The inputs that are of one unit; the loader sees to it (see `procedure.limits`)."""


def _within_limits(inputs: Inputs) -> Finding:
    number, least, most = (inputs[name].content for name in ONE_UNIT)
    said = say_number(number.value, number.unit)
    said = said[:1].upper() + said[1:]
    low, high = say_count(least.value, number.unit), say_count(most.value, number.unit)
    if number.value < least.value - _ROUNDING:
        return Finding("below", f"{said}, below {low}.")
    if number.value > most.value + _ROUNDING:
        return Finding("above", f"{said}, above {high}.")
    return Finding("within", f"{said}, from {low} to {high}.")


LIMITS: Mapping[str, Computation] = {
    "within-limits": Computation(
        inputs=dict.fromkeys(ONE_UNIT, Kind.NUMBER),
        outcomes=("within", "below", "above"),
        run=_within_limits,
        may_be_written=frozenset({"least", "most"}),
    ),
}
