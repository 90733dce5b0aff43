"""By which rules a job is decided: to its end by those of the program that began it.

A newer program that decides something otherwise keeps the way of before for older jobs, so that
their journals come out as they were decided. The first line of a journal tells which holds.
"""

from __future__ import annotations

import enum

__all__ = ["Rules"]


class Rules(enum.IntEnum):
    """Each goes on from the one before.

    FIRST: whatever is said where words are kept is at once the note, or the reason; only a hold or
    a restart is a break.
    SECOND: commands are obeyed where words are kept, and a reason counts once it was agreed on; a
    long silence is a break too.
    THIRD: what was said behind the gate can not be gone back to once the job stands before it, and
    what a break or a free shaft voids stays void.
    """

    FIRST = 1
    SECOND = 2
    THIRD = 3
