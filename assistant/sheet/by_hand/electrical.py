"""The electrical test: lamps, the distance to the stop, the time of the stroke."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.meaning import Quantity
from assistant.language.speaking import say_meaning
from assistant.procedure.values import Kind, Value
from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer, inward
from assistant.sheet.texts import Text

__all__ = ["ELECTRICAL"]


def _compare_lamps(case: Case) -> ByHand:
    known = case.known("expected")
    wanted: Text = (say_meaning(known.content),) if known else ("the lamps of the drawing lit",)
    rows = (
        Row("same", (("exactly as drawn: ", *wanted),)),
        Row("different", (("otherwise",),), ("The drawing wants ", *wanted, ".")),
    )
    return ByHand(("lamps seen",), rows, (("Seen: ", case.blank("seen"), "."),))


def _distance(case: Case) -> ByHand:
    unit = case.unit
    most, said = "the back-off of the open end", "It should stop within … of the stop."
    if unit is not None:
        value = unit.back_off_open.value
        most = f"{value:g}"
        beyond = Value(Kind.NUMBER, Quantity(value + 1, "turns"))
        said = case.run({"unit": Value(Kind.UNIT, unit), "turns": beyond}).because
    rows = (
        Row("close", ((f"more than 0, at most {most}",),)),
        Row("short", ((f"more than {most}",),), (said,)),
        Row("on-the-stop", (("0",),)),
    )
    return ByHand(("turns to the stop",), rows, (("Counted: ", case.blank("turns"), "."),))


def _stroke_time(case: Case) -> ByHand:
    unit = case.unit
    within, outside, none = (
        "within the tolerance of the data",
        "outside of it",
        "the sheet has none",
    )
    data: Text = (" The data say … seconds.",)
    if unit is not None and unit.stroke_seconds is not None:
        seconds, percent = unit.stroke_seconds.value, unit.stroke_time_tolerance.value
        off = seconds * percent / 100
        low, high = inward(seconds - off, seconds + off, 1)
        within = f"{low} to {high}, which is {seconds:.1f} ± {percent:g} %"
        outside, none = "shorter or longer", "never on this unit"
        data = (f" The data say {round(seconds)} seconds.",)
    elif unit is not None:
        within = outside = "never on this unit"
    begun, stopped = case.blank("begun"), case.blank("stopped")
    took = "The stroke took … seconds"
    rows = (
        Row("as-data", ((within,),), (f"{took}, as the data say.",)),
        Row("no-data", ((none,),), (f"{took}.",)),
        Row("differs", ((outside,),), (f"{took}.", *data)),
        Row("unknown", (("the time is not known",),)),
    )
    return ByHand(("seconds",), rows, (("Seconds: from ", begun, " to ", stopped, "."),))


ELECTRICAL: Mapping[str, Writer] = {
    "compare-lamps": _compare_lamps,
    "distance-to-stop": _distance,
    "stroke-time": _stroke_time,
}
