"""What the program works out in a job, to be worked out by hand from the sheet.

One module for each of `procedure.computing`, with the same names. Where the unit is known, numbers
and states are filled in, and what can be found is found by the computation itself.
"""

from __future__ import annotations

from collections.abc import Mapping

from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer
from assistant.sheet.by_hand.direction import DIRECTION
from assistant.sheet.by_hand.elapsed import ELAPSED
from assistant.sheet.by_hand.electrical import ELECTRICAL
from assistant.sheet.by_hand.limits import LIMITS
from assistant.sheet.by_hand.papers import PAPERS
from assistant.sheet.by_hand.readings import READINGS
from assistant.sheet.by_hand.speed import SPEED
from assistant.sheet.by_hand.sweep import SWEEP
from assistant.sheet.by_hand.trip import TRIP

__all__ = ["BY_HAND", "ByHand", "Case", "Row", "by_hand"]

BY_HAND: Mapping[str, Writer] = {
    **DIRECTION,
    **READINGS,
    **SWEEP,
    **TRIP,
    **SPEED,
    **ELECTRICAL,
    **PAPERS,
    **LIMITS,
    **ELAPSED,
}
"""How each computation is done by hand, by its name."""


def by_hand(case: Case) -> ByHand:
    """How the computation of a step is done by hand."""
    return BY_HAND[case.compute.computation](case)
