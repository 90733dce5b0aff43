"""How fast and how far a shaft was turned."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.speaking import say_number
from assistant.procedure.computing.speed import COUNTING
from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer
from assistant.trade.pace import SHAFT_LIMIT_RPM, least_seconds

__all__ = ["SPEED"]


def _shaft_speed(case: Case) -> ByHand:
    limit = f"{SHAFT_LIMIT_RPM:g}"
    least = f"{least_seconds(1):g}"
    turns, begun, stopped = case.blank("turns"), case.blank("begun"), case.blank("stopped")
    work = (
        ("Seconds: from ", begun, " to ", stopped, "."),
        ("Turns a minute: 60 times ", turns, ", divided by the seconds."),
        (f"The shortest honest time is {least} seconds a turn.",),
    )
    rows = (
        Row("within", ((f"at most {limit}",),)),
        Row("too-fast", ((f"above {limit}",),), ("That was … r p m.",)),
        Row("unknown", (("the time is not known",),)),
    )
    return ByHand(("turns a minute",), rows, work)


def _within_cycle(case: Case) -> ByHand:
    turns = case.blank("turns")
    unit = case.unit
    if unit is not None and unit.cycle_revolutions is None:
        within, beyond = "any count: the sheet knows no cycle", "never on this unit"
        said = "One cycle is not on the sheet."
    elif unit is not None and unit.cycle_revolutions is not None:
        most = unit.cycle_revolutions.value
        within = f"at most {most + COUNTING:g}: one cycle, {most:g}, and one that may be miscounted"
        beyond = f"more than {most + COUNTING:g}"
        said = f"One cycle is {say_number(most, 'revolutions')}."
    else:
        within, beyond = "at most one cycle of the unit sheet, and one more", "more"
        said = "One cycle is … revolutions."
    rows = (Row("within", ((within,),)), Row("beyond", ((beyond,),), (said,)))
    return ByHand(("revolutions counted",), rows, (("Counted: ", turns, "."),))


SPEED: Mapping[str, Writer] = {"shaft-speed": _shaft_speed, "within-cycle": _within_cycle}
