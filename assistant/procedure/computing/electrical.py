"""The electrical test: lamps, the distance to the stop, and the time of the stroke."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.meaning import Quantity
from assistant.language.speaking import say_meaning, say_number, say_turns
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.computing.speed import seconds_between
from assistant.procedure.values import Kind, Value
from assistant.trade.unit import Unit

__all__ = ["ELECTRICAL"]


def _compare_lamps(inputs: Inputs) -> Finding:
    expected, seen = inputs["expected"].content, inputs["seen"].content
    if set(expected.names) == set(seen.names):
        return Finding("same", "Lamps as drawn.")
    return Finding("different", f"The drawing wants {say_meaning(expected)}.")


def _distance(inputs: Inputs) -> Finding:
    """Whether the motor stopped close to the open stop, but not on it."""
    unit: Unit = inputs["unit"].content
    turns, most = inputs["turns"].content.value, unit.back_off_open.value
    if turns <= 0:
        return Finding("on-the-stop", "The motor ran onto the stop.")
    if turns > most:
        return Finding("short", f"It should stop within {say_turns(most)} of the stop.")
    return Finding("close", "Close to the stop, and not on it.")


def _stroke_time(inputs: Inputs) -> Finding:
    unit: Unit = inputs["unit"].content
    seconds = seconds_between(inputs["begun"].content, inputs["stopped"].content)
    if seconds is None:
        return Finding("unknown", "The clock gives no time.")
    said = say_number(round(seconds), "seconds")
    result = Value(Kind.NUMBER, Quantity(round(seconds, 1), "seconds"))
    if unit.stroke_seconds is None:
        return Finding("no-data", f"The stroke took {said}.", result)
    data = say_number(round(unit.stroke_seconds.value), "seconds")
    if unit.stroke_time_differs(seconds):
        return Finding("differs", f"The stroke took {said}. The data say {data}.", result)
    return Finding("as-data", f"The stroke took {said}, as the data say.", result)


_LAMPS = {"expected": Kind.LAMPS, "seen": Kind.LAMPS}

ELECTRICAL: Mapping[str, Computation] = {
    "compare-lamps": Computation(_LAMPS, ("same", "different"), _compare_lamps),
    "distance-to-stop": Computation(
        inputs={"unit": Kind.UNIT, "turns": Kind.NUMBER},
        outcomes=("close", "short", "on-the-stop"),
        run=_distance,
        units={"turns": "turns"},
    ),
    "stroke-time": Computation(
        inputs={"unit": Kind.UNIT, "begun": Kind.MOMENT, "stopped": Kind.MOMENT},
        outcomes=("as-data", "differs", "no-data", "unknown"),
        run=_stroke_time,
        result=Kind.NUMBER,
        without_result=frozenset({"unknown"}),
        result_unit="seconds",
    ),
}
