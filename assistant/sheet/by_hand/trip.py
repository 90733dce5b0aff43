"""The proof of a trip by hand."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.procedure.values import Kind, RotorOfUnit, Value
from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer, figures, inward, reading
from assistant.trade.contacts import Reading
from assistant.trade.proof import trip_error

__all__ = ["TRIP", "window_of"]


def window_of(of: RotorOfUnit) -> tuple[float, float, float]:
    """The turns counted at the proof that are within tolerance, and percent of travel a turn.

    Returns:
        The least, the most, and by how many percent further open one more turn counted is.
    """
    none, one = (trip_error(of.unit, of.rotor, marked).percent for marked in (0.0, 1.0))
    slope = one - none
    exact, off = -none / slope, of.unit.tolerance.value / abs(slope)
    return exact - off, exact + off, slope


def _prove_sense(case: Case) -> ByHand:
    of = case.rotor
    before, past = "all as the drawing shows them before the trip", "all as past the trip"
    inverted = "They stand as past the trip."
    if of:
        before, past = figures(of.unit.before(of.rotor)), figures(of.unit.past(of.rotor))
        inverted = _sense(case, of, of.unit.past(of.rotor))
    rows = (
        Row("drawn", ((before,),)),
        Row("inverted", ((past,),), (inverted,)),
        Row(
            "unclear",
            (("anything else",),),
            ("Name the contacts that do not go with the others of their rotor.",),
        ),
    )
    return ByHand(("contacts read",), rows, (("Read: ", case.blank("reading"), "."),))


def _sense(case: Case, of: RotorOfUnit, states: Reading) -> str:
    return case.run({"rotor": Value(Kind.ROTOR, of), "reading": reading(states)}).because


def _prove_trip(case: Case) -> ByHand:
    of = case.rotor
    right, fewer, more = "within tolerance of the drawn place", "fewer", "more"
    ways = ("…", "…")
    work = (
        "Error in percent of travel: turns from the drawn place times 100, divided by the turns of "
        "the stroke.",
    )
    if of:
        least, most, slope = window_of(of)
        low, high = inward(max(least, 0.0), most)
        right, fewer, more = f"{low} to {high}", f"fewer than {low}", f"more than {high}"
        ways = ("closed", "open") if slope > 0 else ("open", "closed")
        exact, percent = (least + most) / 2, abs(slope)
        work = (
            f"Error: turns counted less {exact:.2f}; one turn is {percent:.2f} % of travel; "
            f"more turns are further {ways[1]}. Drawn at {of.unit.trip(of.rotor):g} %.",
        )
    rows = (
        Row("right", ((right,),), ("Trip proved, … percent from the drawing.",)),
        Row("wrong", ((fewer,),), (f"The trip is … turns, … percent, too far {ways[0]}.",)),
        Row("wrong", ((more,),), (f"The trip is … turns, … percent, too far {ways[1]}.",)),
    )
    counted = ("Counted: ", case.blank("turns"), ".")
    return ByHand(("turns counted",), rows, (counted, work))


def _bypass(case: Case) -> ByHand:
    unit, trip, unseated = case.unit, case.blank("trip"), case.blank("unseated")
    contact = f"Contact {unit.bypass}" if unit and unit.bypass else "Contact …"
    work = (
        ("A: turns from the closed stop at which the rotor was proved to change over, ", trip, "."),
        ("B: turns from the closed stop at which the disk left its seat, ", unseated, "."),
    )
    rows = (
        Row("holds", (("A is B or more",),)),
        Row(
            "ends-early",
            (("A is less than B",),),
            (
                f"{contact} opens … turns from the stop, before the disk leaves its seat. "
                "The torque switch could keep the valve shut.",
            ),
        ),
    )
    return ByHand(("A and B",), rows, work)


TRIP: Mapping[str, Writer] = {
    "prove-sense": _prove_sense,
    "prove-trip": _prove_trip,
    "bypass": _bypass,
}
