"""How fast, and how far, a shaft was turned."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.meaning import Quantity
from assistant.language.speaking import say_number
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.values import Kind, Moment, Value
from assistant.trade.pace import rpm, too_fast

__all__ = ["COUNTING", "SPEED", "seconds_between"]


def seconds_between(begun: Moment, ended: Moment) -> float | None:
    """Seconds from one moment to another; None where they are not known.

    They are not after a break between both, nor where a clock was set back.
    """
    seconds = (ended.at - begun.at).total_seconds()
    return seconds if begun.measured_from and ended.measured_from and seconds > 0 else None


COUNTING = 1.0
"""Shaft revolutions by which a person's count may be off; common practice, no source."""


def _shaft_speed(inputs: Inputs) -> Finding:
    turns = inputs["turns"].content.value
    seconds = seconds_between(inputs["begun"].content, inputs["stopped"].content)
    if seconds is None:
        return Finding("unknown", "The clock gives no speed.")
    speed = rpm(turns, seconds)
    said = f"{say_number(round(speed), 'rpm')}"
    result = Value(Kind.NUMBER, Quantity(round(speed), "rpm"))
    if too_fast(speed):
        return Finding("too-fast", f"That was {said}.", result)
    return Finding("within", f"{said}.", result)


def _within_cycle(inputs: Inputs) -> Finding:
    """Whether the change-over came within one cycle, where the sheet knows the cycle."""
    cycle = inputs["unit"].content.cycle_revolutions
    # From an inverted change-over the way to the drawn one is a cycle, and a count is not exact.
    if cycle is None or inputs["turns"].content.value <= cycle.value + COUNTING:
        return Finding("within", "Within one cycle.")
    return Finding("beyond", f"One cycle is {say_number(cycle.value, 'revolutions')}.")


SPEED: Mapping[str, Computation] = {
    "shaft-speed": Computation(
        inputs={"turns": Kind.NUMBER, "begun": Kind.MOMENT, "stopped": Kind.MOMENT},
        outcomes=("within", "too-fast", "unknown"),
        run=_shaft_speed,
        result=Kind.NUMBER,
        without_result=frozenset({"unknown"}),
        units={"turns": "revolutions"},
        result_unit="rpm",
    ),
    "within-cycle": Computation(
        inputs={"unit": Kind.UNIT, "turns": Kind.NUMBER},
        outcomes=("within", "beyond"),
        run=_within_cycle,
        units={"turns": "revolutions"},
    ),
}
