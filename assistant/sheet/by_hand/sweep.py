"""The slow stroke by hand: its table, the full stroke, and where each rotor was found."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.speaking import say_turns
from assistant.procedure.computing.sweep import COUNTING, STROKE_TOLERANCE
from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer, inward
from assistant.sheet.texts import Text
from assistant.trade.patterns import NEAR_TURNS
from assistant.trade.travel import to_percent

__all__ = ["SWEEP"]

_BACK = ("… turns cannot come after ….",)


def _start(case: Case) -> ByHand:
    work = (("The first line of the stroke: 0 turns, ", case.blank("reading"), "."),)
    return ByHand(("",), (Row("next", (("written down",),)),), work)


def _add(case: Case) -> ByHand:
    turns, read = case.blank("turns"), case.blank("reading")
    work = (("The next line of the stroke: ", turns, ", ", read, "."),)
    rows = (
        Row("next", (("more turns than the line before, and a contact that changed",),)),
        Row(
            "impossible",
            (("no contact changed",),),
            ("No contact has changed since the last reading.",),
        ),
        Row("impossible", (("fewer turns than the line before",),), _BACK),
    )
    return ByHand(("compared with the line before",), rows, work)


def _end(case: Case) -> ByHand:
    work = (("The last line of the stroke, its length: ", case.blank("turns"), "."),)
    rows = (
        Row("next", (("more turns than the line before",),)),
        Row("impossible", (("fewer turns than the line before, or none",),), _BACK),
    )
    return ByHand(("compared with the line before",), rows, work)


def _diagnose(case: Case) -> ByHand:
    near = f"{NEAR_TURNS:g} turns"
    patterns = (
        ("a rotor that changes over the wrong way round", "The … rotor is inverted."),
        ("a rotor that changes over more than once", "Its gears or its wiring are not as drawn."),
        (f"two rotors, each within {near} of the other's place", "The … rotors are swapped."),
        ("a contact that never changes", "It may be welded, or wired elsewhere."),
        (
            "a contact that changes apart from its rotor, or opposite to the drawing",
            "It may be wired elsewhere, or misread.",
        ),
    )
    rows = (
        Row("explained", (("the contacts of each rotor change together, once or not at all",),)),
        *(Row("unexplained", ((what,),), (said,)) for what, said in patterns),
    )
    work = (("Look down each contact in the lines of the stroke, ", case.blank("sweep"), "."),)
    return ByHand(("the lines of the stroke",), rows, work)


def _compare_stroke(case: Case) -> ByHand:
    sheet, said = "the number of the sheet", "The sheet says … turns."
    if case.unit:
        turns = case.unit.stroke_turns.value
        sheet = f"{turns - STROKE_TOLERANCE:g} to {turns + STROKE_TOLERANCE:g} turns"
        said = f"The sheet says {say_turns(turns)}."
    rows = (
        Row("same", ((sheet,),)),
        Row("different", (("otherwise",),), (f"Counted … turns. {said}",)),
    )
    return ByHand(("length of the stroke",), rows, (("Counted: ", case.blank("sweep"), "."),))


def _adopt_stroke(case: Case) -> ByHand:
    first, again = case.blank("sweep"), case.blank("again")
    sheet = f" ({case.unit.stroke_turns.value:g} turns)" if case.unit else ""
    apart = f"{STROKE_TOLERANCE:g} turn"
    anew = (
        "What this sheet tells of turns in travel no longer holds: print it anew with that count."
    )
    rows = (
        Row(
            "adopted",
            ((f"both counts within {apart} of each other. {anew}",),),
            ("The stroke is … turns.",),
        ),
        Row("as-sheet", ((f"the second within {apart} of the sheet{sheet}",),)),
        Row("different", (("neither",),)),
        Row(
            "impossible",
            (("with that count the places of the rotors on the sheet cannot be",),),
            ("Say what cannot be.",),
        ),
    )
    work = (("First: the length of the stroke, ", first, ". Second: ", again, "."),)
    return ByHand(("the two counts",), rows, work)


def _as_found(case: Case) -> ByHand:
    of = case.rotor
    name = of.rotor.name if of else "…"
    right, within, drawn = "surely within tolerance", "within tolerance otherwise", ""
    if of:
        unit, stroke = of.unit, of.unit.stroke_turns.value
        place = unit.trip(of.rotor)
        tolerance = unit.tolerance.value
        right = _around(place, tolerance - to_percent(COUNTING, stroke))
        within = f"otherwise {_around(place, tolerance)}"
        drawn = f" Drawn at {place:g} ± {tolerance:g} %; a count may be off by {COUNTING:g} turns."
    work: tuple[Text, ...] = (
        ("Where its contacts change over in the lines of the stroke, ", case.blank("sweep"), "."),
        (
            "Percent of travel: turns there times 100, divided by the turns of the full stroke.",
            drawn,
        ),
    )
    at = f"The {name} rotor changes over at … percent"
    rows = (
        Row("right", ((right,),), (f"{at}, as drawn.",)),
        Row(
            "wrong",
            ((within,),),
            (f"{at}, within tolerance by the count, but quarter turns cannot prove it.",),
        ),
        Row("wrong", (("elsewhere",),), (f"{at}, … percent too far open, or closed.",)),
        Row("wrong", (("the wrong way round",),), (f"{at}, inverted.",)),
        Row("none", (("nowhere",),), (f"The {name} rotor does not change over in the stroke.",)),
    )
    return ByHand(("it changes over",), rows, work)


def _around(place: float, off: float) -> str:
    """The places of a trip that are so far from the drawn one at most, in percent of travel."""
    if off < 0:
        return "nowhere: the tolerance is smaller than a count can be off"
    low, high = inward(place - off, place + off)
    return f"{low} % to {high} %, in the drawn sense"


SWEEP: Mapping[str, Writer] = {
    "start-sweep": _start,
    "add-to-sweep": _add,
    "end-sweep": _end,
    "diagnose": _diagnose,
    "compare-stroke": _compare_stroke,
    "adopt-stroke": _adopt_stroke,
    "as-found": _as_found,
}
