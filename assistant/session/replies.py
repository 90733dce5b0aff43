"""What becomes of an open question when something was said to it, or nothing."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass

from assistant.language.meaning import Meaning

__all__ = ["GAVE_UP", "Answered", "Failure", "GaveUp", "Reply", "Speaks", "Why"]


class Why(enum.StrEnum):
    """Why a question got no answer; the first two as VoiceXML 2.0 calls them."""

    NOMATCH = "nomatch"
    NOINPUT = "noinput"
    UNCLEAR = "unclear"
    BEYOND_BELIEF = "beyond-belief"


GAVE_UP: Mapping[Why, str] = {
    Why.NOMATCH: "I could not understand you.",
    Why.NOINPUT: "I heard nothing.",
    Why.UNCLEAR: "I could not understand you.",
    Why.BEYOND_BELIEF: "No number was possible.",
}
"""What is said when a question is given up for it."""


@dataclass(frozen=True, slots=True)
class Failure:
    """A question got no answer.

    Args:
        why: what was wrong.
        count: the how-manieth failure of this question it is, from 1.
    """

    why: Why
    count: int


@dataclass(frozen=True, slots=True)
class Speaks:
    """The question is still open: say this, and listen on."""

    text: str
    failure: Failure | None = None


@dataclass(frozen=True, slots=True)
class Answered:
    """The question has an answer that counts."""

    meaning: Meaning


@dataclass(frozen=True, slots=True)
class GaveUp:
    """The question got no answer; why."""

    reason: str
    failure: Failure


Reply = Speaks | Answered | GaveUp
