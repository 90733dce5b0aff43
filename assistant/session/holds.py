"""What a job is held for.

The kind is what was decided: it is kept in the journal, and a replay compares it. The sentence is
only how this program says it.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping

from assistant.session import wording
from assistant.session.replies import Why

__all__ = ["GAVE_UP", "REASONS", "HoldKind"]


class HoldKind(enum.StrEnum):
    """What a job is held for.

    A step of the procedure holds it; the technician said so; a question was given up, for what was
    wrong with the last reply (`Why`); something has to come first and is not so, where it is the
    rod of a shaft that was found free by its own kind; or something was moved in a break.
    """

    PROCEDURE = "procedure"
    SAID = "said"
    NOMATCH = "nomatch"
    NOINPUT = "noinput"
    UNCLEAR = "unclear"
    BEYOND_BELIEF = "beyond-belief"
    MISSING = "missing"
    SHAFT_FREE = "shaft-free"
    MOVED = "moved"


GAVE_UP: Mapping[Why, HoldKind] = {
    Why.NOMATCH: HoldKind.NOMATCH,
    Why.NOINPUT: HoldKind.NOINPUT,
    Why.UNCLEAR: HoldKind.UNCLEAR,
    Why.BEYOND_BELIEF: HoldKind.BEYOND_BELIEF,
}
"""What the job is held for where a question was given up."""

_NOT_UNDERSTOOD = "I could not understand you."

REASONS: Mapping[HoldKind, str] = {
    HoldKind.SAID: "You said hold.",
    HoldKind.NOMATCH: _NOT_UNDERSTOOD,
    HoldKind.NOINPUT: "I heard nothing.",
    HoldKind.UNCLEAR: _NOT_UNDERSTOOD,
    HoldKind.BEYOND_BELIEF: "No number was possible.",
    HoldKind.MISSING: "That comes first.",
    HoldKind.SHAFT_FREE: wording.SHAFT_FREE,
    HoldKind.MOVED: wording.MOVED_MEANWHILE,
}
"""How the session says it; where the procedure holds the job, that says it."""
