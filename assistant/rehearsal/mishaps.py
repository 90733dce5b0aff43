"""The human errors that a writer can have made, by short names."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from assistant.procedure.deeds import ActKind
from assistant.procedure.fields import nearest, quoted
from assistant.rehearsal.handling import HandlingError
from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.rig.technician import Technician

__all__ = ["MISHAPS", "read_mishap", "step_of"]

_OF_THE_PLATE = frozenset(
    (MistakeKind.WRONG_SHEET, MistakeKind.REVISION_DIFFERS, MistakeKind.CHECKER_COPIES)
)
"""Errors that are made at no single step."""

MISHAPS: Mapping[str, MistakeKind] = {
    kind.name.lower().replace("_", "-"): kind for kind in MistakeKind if kind not in _OF_THE_PLATE
}
"""The errors that can be made at a step, by the names that a writer types."""


_OF_THE_HAND: Mapping[MistakeKind, frozenset[ActKind]] = {
    MistakeKind.WRONG_WAY: frozenset({ActKind.TURN_SHAFT}),
    MistakeKind.TOO_FAST: frozenset({ActKind.TURN_SHAFT}),
    MistakeKind.MISCOUNT: frozenset({ActKind.CRANK}),
    MistakeKind.WRONG_BACK_OFF: frozenset({ActKind.CRANK}),
    MistakeKind.ROD_LEFT_OUT: frozenset({ActKind.ENGAGE}),
    MistakeKind.HALF_ENGAGED: frozenset({ActKind.ENGAGE}),
    MistakeKind.STEP_SKIPPED: frozenset(ActKind),
}
"""Errors that are made while something is done, and while what."""


def step_of(mistake: Mistake, technician: Technician) -> Mistake:
    """The error at the step at which the work was asked for, if it is one of the hand."""
    acts = _OF_THE_HAND.get(mistake.kind, frozenset())
    for request, step in zip(technician.to_do, technician.asked_at, strict=True):
        if request.act in acts:
            return replace(mistake, step=step)
    return mistake


def read_mishap(words: Sequence[str], step: str) -> Mistake:
    """Read which error is to be made, at this step.

    Args:
        words: its name, and a number where it takes one: the place of the contact or lamp in the
            question, from 1, or the turns by which a count is off.
        step: the step, by its name in the whole program.

    Raises:
        HandlingError: there is no such error, or the number is none.
    """
    name, *more = words
    if name not in MISHAPS:
        raise HandlingError(f"no error is called {quoted(name)}; {nearest(name, MISHAPS)}")
    kind = MISHAPS[name]
    try:
        number = float(more[0]) if more else 1.0
    except ValueError:
        number = math.nan
    if not math.isfinite(number) or len(more) > 1:
        raise HandlingError(f"write it '/what-if {name} NUMBER', for example '/what-if {name} 1'")
    counts = kind in (MistakeKind.MISCOUNT, MistakeKind.WRONG_BACK_OFF)
    return Mistake(kind, step, number if counts else max(number - 1, 0.0))
