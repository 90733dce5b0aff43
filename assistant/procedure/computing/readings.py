"""Compare what was read on contacts with what ought to be there."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.speaking import say_reading
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.values import Kind
from assistant.trade.sweep import disagreement

__all__ = ["READINGS"]


def _compare_readings(inputs: Inputs) -> Finding:
    expected = inputs["expected"].content.mapping()
    read = inputs["reading"].content.mapping()
    wrong = {number: state for number, state in expected.items() if read.get(number) != state}
    if not wrong:
        return Finding("same", "As drawn.")
    return Finding("different", f"The drawing wants {say_reading(wrong)}.")


def _readings_agree(inputs: Inputs) -> Finding:
    """Whether the contacts of each rotor stand together: all before its trip, or all past it."""
    fault = disagreement(inputs["unit"].content, inputs["reading"].content.mapping())
    if fault is None:
        return Finding("agree", "The contacts of each rotor stand together.")
    return Finding("disagree", fault)


READINGS: Mapping[str, Computation] = {
    "compare-readings": Computation(
        inputs={"expected": Kind.READING, "reading": Kind.READING},
        outcomes=("same", "different"),
        run=_compare_readings,
    ),
    "readings-agree": Computation(
        inputs={"unit": Kind.UNIT, "reading": Kind.READING},
        outcomes=("agree", "disagree"),
        run=_readings_agree,
    ),
}
