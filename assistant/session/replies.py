"""What becomes of an open question when something was said to it, or nothing."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from assistant.language.meaning import Meaning

__all__ = ["Answered", "Failure", "GaveUp", "Reply", "Speaks", "Why"]


class Why(enum.StrEnum):
    """Why a question got no answer; the first two as VoiceXML 2.0 calls them."""

    NOMATCH = "nomatch"
    NOINPUT = "noinput"
    UNCLEAR = "unclear"
    BEYOND_BELIEF = "beyond-belief"


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
    """The question is still open: say this, and listen on.

    Args:
        sentences: what is said, one prompt after the other.
        failure: what was wrong with the reply, if something was.
    """

    sentences: tuple[str, ...]
    failure: Failure | None = None


@dataclass(frozen=True, slots=True)
class Answered:
    """The question has an answer that counts."""

    meaning: Meaning


@dataclass(frozen=True, slots=True)
class GaveUp:
    """The question got no answer once too often."""

    failure: Failure


Reply = Speaks | Answered | GaveUp
