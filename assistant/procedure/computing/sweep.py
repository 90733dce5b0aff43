"""Find every trip by one slow stroke by hand, and say what the pattern of change-overs means."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from assistant.language.speaking import say_number, say_turns
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.values import Kind, RotorOfUnit, Trip, Value
from assistant.trade.found import RotorFound, find
from assistant.trade.motion import Travel
from assistant.trade.patterns import patterns
from assistant.trade.proof import TripError
from assistant.trade.sheet import Sourced
from assistant.trade.sweep import Sweep, SweepError
from assistant.trade.travel import to_turns
from assistant.trade.trip import Sense
from assistant.trade.unit import Unit, UnitError

__all__ = ["COUNTING", "STROKE_TOLERANCE", "SWEEP"]

STROKE_TOLERANCE = 0.5
"""Handwheel turns by which two counts of one stroke may differ; common practice, no source."""


COUNTING = 0.125
"""Handwheel turns by which a count to the quarter turn may be off: half a quarter."""

_ROUNDING = 1e-9


def _start(inputs: Inputs) -> Finding:
    """Begin at the closed stop."""
    sweep = Sweep(Travel.OPENING, inputs["reading"].content.mapping())
    return Finding("next", "At the closed stop.", Value(Kind.SWEEP, sweep))


def _add(inputs: Inputs) -> Finding:
    sweep: Sweep = inputs["sweep"].content
    turns, reading = inputs["turns"].content.value, inputs["reading"].content.mapping()
    if reading == sweep.last:
        return Finding("impossible", "No contact has changed since the last reading.")
    try:
        return Finding("next", "", Value(Kind.SWEEP, sweep.add(turns, reading)))
    except SweepError as error:
        return Finding("impossible", str(error))


def _end(inputs: Inputs) -> Finding:
    sweep: Sweep = inputs["sweep"].content
    try:
        ended = sweep.end(inputs["turns"].content.value)
    except SweepError as error:
        return Finding("impossible", str(error))
    return Finding("next", "", Value(Kind.SWEEP, ended))


def _diagnose(inputs: Inputs) -> Finding:
    found = patterns(inputs["unit"].content, inputs["sweep"].content)
    if not found:
        return Finding("explained", "Every rotor can be set.")
    return Finding("unexplained", " ".join(pattern.text for pattern in found))


def _same_stroke(one: float, other: float) -> bool:
    return abs(one - other) <= STROKE_TOLERANCE


def _compare_stroke(inputs: Inputs) -> Finding:
    """Whether the counted stroke is that of the sheet."""
    sheet = inputs["unit"].content.stroke_turns.value
    counted = inputs["sweep"].content.length
    if counted is None or _same_stroke(counted, sheet):
        return Finding("same", "The stroke is as on the sheet.")
    because = f"Counted {say_turns(counted)}. The sheet says {say_turns(sheet)}."
    return Finding("different", because)


def _adopt_stroke(inputs: Inputs) -> Finding:
    """Take the counted stroke in place of the sheet's, if a second count agrees."""
    unit: Unit = inputs["unit"].content
    again = inputs["again"].content.value
    counted = inputs["sweep"].content.length
    if counted is None or not _same_stroke(counted, again):
        if _same_stroke(again, unit.stroke_turns.value):
            return Finding("as-sheet", "The second count is that of the sheet.")
        return Finding("different", "The two counts differ.")
    try:
        adopted = replace(unit, stroke_turns=Sourced(again, "turns", "counted twice in this job"))
    except UnitError as error:
        return Finding("impossible", f"{error.faults[0].message.capitalize()}.")
    return Finding("adopted", f"The stroke is {say_turns(again)}.", Value(Kind.UNIT, adopted))


def _as_found(inputs: Inputs) -> Finding:
    of: RotorOfUnit = inputs["rotor"].content
    found = next(
        found
        for found in find(of.unit, inputs["sweep"].content)
        if found.rotor.name == of.rotor.name
    )
    because = _describe(of, found)
    if found.percent is None or found.error_turns is None or found.error_percent is None:
        return Finding("none", because)
    error = TripError(found.error_turns, found.error_percent, found.within)
    turns = to_turns(found.percent, of.unit.stroke_turns.value)
    trip = Value(Kind.TRIP, Trip(found.percent, turns, error))
    return Finding("right" if _may_stay(of, found) else "wrong", because, trip)


def _may_stay(of: RotorOfUnit, found: RotorFound) -> bool:
    """Whether a rotor is surely within tolerance, though a count is only good to a quarter."""
    if found.sense is not Sense.DRAWN or found.error_turns is None:
        return False
    unit: Unit = of.unit
    allowed = to_turns(unit.tolerance.value, unit.stroke_turns.value)
    return abs(found.error_turns) + COUNTING <= allowed + _ROUNDING


def _describe(of: RotorOfUnit, found: RotorFound) -> str:
    if found.turns is None or found.percent is None or found.error_percent is None:
        return f"The {of.rotor.name} rotor does not change over in the stroke."
    at = f"The {of.rotor.name} rotor changes over at {say_number(found.percent, '%')}"
    if found.sense is Sense.INVERTED:
        return f"{at}, inverted."
    if _may_stay(of, found):
        return f"{at}, as drawn."
    if found.within:
        return f"{at}, within tolerance by the count, but quarter turns cannot prove it."
    way = "open" if found.error_percent > 0 else "closed"
    return f"{at}, {say_number(abs(found.error_percent), '%')} too far {way}."


_SWEEP_AND = {"sweep": Kind.SWEEP, "turns": Kind.NUMBER}
_COUNTED = {"turns": "turns"}

SWEEP: Mapping[str, Computation] = {
    "start-sweep": Computation({"reading": Kind.READING}, ("next",), _start, Kind.SWEEP),
    "add-to-sweep": Computation(
        inputs={**_SWEEP_AND, "reading": Kind.READING},
        outcomes=("next", "impossible"),
        run=_add,
        result=Kind.SWEEP,
        units=_COUNTED,
    ),
    "end-sweep": Computation(
        inputs=_SWEEP_AND,
        outcomes=("next", "impossible"),
        run=_end,
        result=Kind.SWEEP,
        units=_COUNTED,
    ),
    "diagnose": Computation(
        inputs={"unit": Kind.UNIT, "sweep": Kind.SWEEP},
        outcomes=("explained", "unexplained"),
        run=_diagnose,
    ),
    "compare-stroke": Computation(
        inputs={"unit": Kind.UNIT, "sweep": Kind.SWEEP},
        outcomes=("same", "different"),
        run=_compare_stroke,
    ),
    "adopt-stroke": Computation(
        inputs={"unit": Kind.UNIT, "sweep": Kind.SWEEP, "again": Kind.NUMBER},
        outcomes=("adopted", "as-sheet", "different", "impossible"),
        run=_adopt_stroke,
        result=Kind.UNIT,
        units={"again": "turns"},
    ),
    "as-found": Computation(
        inputs={"rotor": Kind.ROTOR, "sweep": Kind.SWEEP},
        outcomes=("right", "wrong", "none"),
        run=_as_found,
        result=Kind.TRIP,
        without_result=frozenset({"none"}),
    ),
}
