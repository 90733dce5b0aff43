"""Prove a trip: cranked back across the point and forward again, counted anew from the stop."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.speaking import say_number, say_turns
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.values import Kind, RotorOfUnit, Trip, Value
from assistant.trade.bypass import ends_early
from assistant.trade.proof import trip_error
from assistant.trade.sweep import disagreement
from assistant.trade.travel import quarter_turns, to_turns
from assistant.trade.unit import Unit

__all__ = ["TRIP"]


def _prove_sense(inputs: Inputs) -> Finding:
    """Whether a rotor stands, one turn before its trip, as it is drawn there."""
    of: RotorOfUnit = inputs["rotor"].content
    reading = inputs["reading"].content.mapping()
    if reading == of.unit.before(of.rotor):
        return Finding("drawn", "As drawn before the trip.")
    if reading == of.unit.past(of.rotor):
        return Finding(
            "inverted",
            "They stand as past the trip: changed over too early, or inverted by turning the "
            "shaft the wrong way. The way back is one cycle.",
        )
    return Finding("unclear", disagreement(of.unit, reading) or "The readings are unclear.")


def _prove_trip(inputs: Inputs) -> Finding:
    of: RotorOfUnit = inputs["rotor"].content
    error = trip_error(of.unit, of.rotor, inputs["turns"].content.value)
    percent = of.unit.trip(of.rotor) + error.percent
    turns = to_turns(percent, of.unit.stroke_turns.value)
    trip = Value(Kind.TRIP, Trip(percent, turns, error))
    size = say_number(abs(error.percent), "%")
    if error.within:
        return Finding("right", f"Trip proved, {size} from the drawing.", trip)
    way = "open" if error.percent > 0 else "closed"
    # A count is never finer than a quarter, whatever the drawing's percentage comes to.
    count = say_turns(quarter_turns(abs(error.turns)))
    return Finding("wrong", f"The trip is {count}, {size}, too far {way}.", trip)


def _bypass(inputs: Inputs) -> Finding:
    """Whether the bypass of the torque switch holds until the disk has left its seat."""
    unit: Unit = inputs["unit"].content
    trip: Trip = inputs["trip"].content
    unseated = inputs["unseated"].content.value
    if not ends_early(trip.turns, unseated):
        return Finding("holds", "The bypass holds until the disk has left its seat.")
    return Finding(
        "ends-early",
        f"Contact {unit.bypass} opens {say_turns(quarter_turns(trip.turns))} from the stop, before "
        "the disk leaves its seat. The torque switch could keep the valve shut.",
    )


TRIP: Mapping[str, Computation] = {
    "prove-sense": Computation(
        inputs={"rotor": Kind.ROTOR, "reading": Kind.READING},
        outcomes=("drawn", "inverted", "unclear"),
        run=_prove_sense,
    ),
    "prove-trip": Computation(
        inputs={"rotor": Kind.ROTOR, "turns": Kind.NUMBER},
        outcomes=("right", "wrong"),
        run=_prove_trip,
        result=Kind.TRIP,
        units={"turns": "turns"},
    ),
    "bypass": Computation(
        inputs={"unit": Kind.UNIT, "trip": Kind.TRIP, "unseated": Kind.NUMBER},
        outcomes=("holds", "ends-early"),
        run=_bypass,
        units={"unseated": "turns"},
    ),
}
