"""Human errors, one at a time: what a technician does or says otherwise than a careful one."""

from __future__ import annotations

import enum
from dataclasses import dataclass

__all__ = ["Mistake", "MistakeKind"]


class MistakeKind(enum.StrEnum):
    """What goes wrong."""

    MISREAD = "contact misread"
    WRONG_CONTACT = "reply for the wrong contact"
    MISOBSERVED = "direction misobserved"
    WRONG_WAY = "shaft turned the wrong way"
    MISCOUNT = "turns miscounted"
    ROD_LEFT_OUT = "rod left out"
    HALF_ENGAGED = "rod half engaged, shafts not tried"
    UNTRIED = "rod check answered without doing it"
    STEP_SKIPPED = "step skipped"
    WRONG_BACK_OFF = "back-off for the wrong seating mode"
    WRONG_SHEET = "sheet of the wrong unit"
    REVISION_DIFFERS = "drawing revision differs"
    WRONG_LAMP = "lamp misreported"
    WRONG_WORD = "another choice said"
    TOO_FAST = "shaft turned too fast"
    CHECKER_COPIES = "second checker copies the first"


@dataclass(frozen=True, slots=True)
class Mistake:
    """One human error.

    Args:
        kind: what goes wrong.
        step: the step at which it is made, by its name in the whole program; empty where it is
            no single step.
        detail: the contact or lamp, by number or place in the list, or the turns by which a count
            is off.
    """

    kind: MistakeKind
    step: str = ""
    detail: float = 0.0
