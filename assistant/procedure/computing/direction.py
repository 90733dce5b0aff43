"""Which way to turn a shaft."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.values import Kind, RotorOfUnit, Value
from assistant.trade.motion import Rotation
from assistant.trade.shaft import Verdict, advise

__all__ = ["DIRECTION"]


def _shaft_direction(inputs: Inputs) -> Finding:
    of: RotorOfUnit = inputs["rotor"].content
    rotation: Rotation = inputs["seen"].content
    reading = inputs["reading"].content.mapping()
    advice = advise(of.unit, of.rotor, {of.rotor.set_while: rotation}, reading)
    return Finding(advice.verdict.value, advice.reasons[0], Value(Kind.ADVICE, advice))


DIRECTION: Mapping[str, Computation] = {
    "shaft-direction": Computation(
        inputs={"rotor": Kind.ROTOR, "seen": Kind.ROTATION, "reading": Kind.READING},
        outcomes=tuple(verdict.value for verdict in Verdict),
        run=_shaft_direction,
        result=Kind.ADVICE,
        without_result=frozenset({Verdict.CONTRADICTION.value}),
    ),
}
