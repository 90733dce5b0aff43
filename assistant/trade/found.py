"""Where every rotor was found to trip, and what no setting explains, from one slow stroke."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.trade.course import Course, course, stroke_of
from assistant.trade.patterns import Pattern, PatternKind, patterns
from assistant.trade.proof import TripError
from assistant.trade.sweep import Sweep
from assistant.trade.trip import Sense
from assistant.trade.unit import Rotor, Unit

__all__ = ["Pattern", "PatternKind", "RotorFound", "find", "patterns"]


@dataclass(frozen=True, slots=True)
class RotorFound:
    """Where a rotor was found to change over; None throughout where it does not in the stroke.

    Args:
        rotor: the rotor.
        turns: handwheel turns from the stop where the sweep began.
        percent: percent of travel, 0 the closed seat.
        sense: whether it changes over there as drawn.
        error_turns: handwheel turns from the drawn trip, positive further open.
        error_percent: the same in percent of travel.
        within: whether that is at most the unit's tolerance; the sense is another question.
    """

    rotor: Rotor
    turns: float | None
    percent: float | None
    sense: Sense | None
    error_turns: float | None
    error_percent: float | None
    within: bool


def find(unit: Unit, sweep: Sweep) -> tuple[RotorFound, ...]:
    """Where each rotor was found to change over, in the order of the sheet.

    Percents come from the counted length of the stroke where there is one, else from the sheet's.
    Of a rotor that changes over several times it is the place nearest to the drawn one.
    """
    return tuple(_found(unit, sweep, course(unit, sweep, rotor)) for rotor in unit.rotors)


def _found(unit: Unit, sweep: Sweep, way: Course) -> RotorFound:
    if way.point is None or way.percent is None:
        return RotorFound(way.rotor, None, None, None, None, None, within=False)
    error = TripError.at(unit, way.rotor, way.percent, stroke_of(unit, sweep))
    return RotorFound(
        rotor=way.rotor,
        turns=way.point.turns,
        percent=way.percent,
        sense=way.sense,
        error_turns=error.turns,
        error_percent=error.percent,
        within=error.within,
    )
