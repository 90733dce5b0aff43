"""Readings of contacts against the drawing."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer, figures
from assistant.sheet.texts import Text

__all__ = ["READINGS"]


def _compare_readings(case: Case) -> ByHand:
    known = case.known("expected")
    wanted: Text = (figures(known.content.mapping()),) if known else (case.blank("expected"),)
    rows = (
        Row("same", (("every contact as wanted: ", *wanted),)),
        Row("different", (("any contact otherwise",),), ("The drawing wants ", *wanted, ".")),
    )
    return ByHand(("contacts read",), rows, (("Read: ", case.blank("reading"), "."),))


def _readings_agree(case: Case) -> ByHand:
    together: Text = ("of each rotor all contacts as before its trip, or all as past it",)
    if case.unit:
        unit = case.unit
        sides = "; ".join(
            f"{rotor.name} rotor either {figures(unit.before(rotor))}, or "
            f"{figures(unit.past(rotor))}"
            for rotor in unit.rotors
        )
        together = (sides,)
    rows = (
        Row("agree", (together,)),
        Row(
            "disagree",
            (("a rotor whose contacts stand partly one way, partly the other",),),
            ("Name the contacts that do not go with the others of their rotor.",),
        ),
    )
    return ByHand(("contacts read",), rows, (("Read: ", case.blank("reading"), "."),))


READINGS: Mapping[str, Writer] = {
    "compare-readings": _compare_readings,
    "readings-agree": _readings_agree,
}
