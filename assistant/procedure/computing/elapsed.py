"""How much time lies between two moments."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.meaning import Quantity
from assistant.language.speaking import say_number
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.computing.speed import seconds_between
from assistant.procedure.values import Kind, Value

__all__ = ["ELAPSED"]

_LONGEST = 24 * 3600.0
"""Seconds; a longer time is not told in seconds, and is sooner a clock that was wrong."""


def _elapsed(inputs: Inputs) -> Finding:
    seconds = seconds_between(inputs["begun"].content, inputs["stopped"].content)
    if seconds is None or seconds > _LONGEST:
        return Finding("unknown", "The clock gives no time.")
    said = say_number(round(seconds), "seconds")
    result = Value(Kind.NUMBER, Quantity(round(seconds, 1), "seconds"))
    return Finding("next", f"It took {said}.", result)


ELAPSED: Mapping[str, Computation] = {
    "elapsed": Computation(
        inputs={"begun": Kind.MOMENT, "stopped": Kind.MOMENT},
        outcomes=("next", "unknown"),
        run=_elapsed,
        result=Kind.NUMBER,
        result_unit="seconds",
        without_result=frozenset({"unknown"}),
    ),
}
