"""What a procedure can have computed: each named, with its inputs, its outcomes and its result."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from assistant.language.speaking import say_reading
from assistant.procedure.values import Kind, RotorOfUnit, Value
from assistant.trade.motion import Rotation, Travel
from assistant.trade.shaft import Verdict, advise

__all__ = ["COMPUTATIONS", "Computation", "Finding"]

Inputs = Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Finding:
    """What a computation found.

    Args:
        outcome: one of the computation's outcomes.
        because: why, in one short sentence in the technician's words, fit to be spoken.
        result: the value found, or None.
    """

    outcome: str
    because: str
    result: Value | None


@dataclass(frozen=True, slots=True)
class Computation:
    """A computation that a step can name.

    Args:
        inputs: names and kinds of what it needs.
        result: kind of what it gives; None where only the outcome counts.
        outcomes: the outcomes that the step must say where to go on.
        without_result: outcomes that leave no usable result; texts after them may not name it.
        run: from the inputs to what was found.
    """

    inputs: Mapping[str, Kind]
    result: Kind | None
    outcomes: tuple[str, ...]
    without_result: frozenset[str]
    run: Callable[[Inputs], Finding]


def _shaft_direction(inputs: Inputs) -> Finding:
    of: RotorOfUnit = inputs["rotor"].content
    rotation: Rotation = inputs["seen"].content
    travel: Travel = of.rotor.set_while
    reading = inputs["reading"].content.mapping()
    advice = advise(of.unit, of.rotor, {travel: rotation}, reading)
    return Finding(advice.verdict.value, advice.reasons[0], Value(Kind.ADVICE, advice))


def _compare_readings(inputs: Inputs) -> Finding:
    expected = inputs["expected"].content.mapping()
    read = inputs["reading"].content.mapping()
    wrong = {number: state for number, state in expected.items() if read.get(number) != state}
    if not wrong:
        return Finding("same", "As drawn.", None)
    return Finding("different", f"The drawing wants {say_reading(wrong)}.", None)


COMPUTATIONS: Mapping[str, Computation] = {
    "shaft-direction": Computation(
        inputs={"rotor": Kind.ROTOR, "seen": Kind.ROTATION, "reading": Kind.READING},
        result=Kind.ADVICE,
        outcomes=tuple(verdict.value for verdict in Verdict),
        without_result=frozenset({Verdict.CONTRADICTION.value}),
        run=_shaft_direction,
    ),
    "compare-readings": Computation(
        inputs={"expected": Kind.READING, "reading": Kind.READING},
        result=None,
        outcomes=("same", "different"),
        without_result=frozenset(),
        run=_compare_readings,
    ),
}
"""Every computation, by the name that a step uses."""
