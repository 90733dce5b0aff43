"""When a second check is independent.

Another person, later and apart, who has not seen the first answers, takes the same readings anew
(DOE-STD-1036-93; DOE-EM-STD-5505-96 §6.10).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

__all__ = ["Visit", "independence_faults", "same_person"]

_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z", re.ASCII)


@dataclass(frozen=True, slots=True)
class Visit:
    """One person's readings of a valve.

    Args:
        person: who took them.
        begun: when the first was taken, RFC 3339 in UTC, ``2031-05-14T08:02:11.250Z``.
        ended: when the last was taken.
        had_seen: whether that person had seen or heard the other one's answers.

    Raises:
        ValueError: nobody is named, a time is none, or it ended before it began.
    """

    person: str
    begun: str
    ended: str
    had_seen: bool

    def __post_init__(self) -> None:
        if not _letters(self.person):
            raise ValueError(f"{self.person!r} names nobody: say who took the readings.")
        if _moment(self.ended) < _moment(self.begun):
            raise ValueError(f"A visit cannot end at {self.ended} and begin at {self.begun}.")


def independence_faults(first: Visit, second: Visit) -> tuple[str, ...]:
    """Why a second check is not independent; nothing where it is.

    Args:
        first: the visit whose readings are to be verified; what that person had seen counts not.
        second: the visit that verifies them.
    """
    return tuple(_faults(first, second))


def same_person(one: str, other: str) -> bool:
    """Whether two names name the same person: case, accents, spaces and punctuation left aside."""
    return _letters(one) == _letters(other)


def _faults(first: Visit, second: Visit) -> Iterator[str]:
    if same_person(first.person, second.person):
        yield f"{second.person} took the first readings too: another person has to check."
    if _moment(second.begun) < _moment(first.ended):
        yield "The second check began before the first had ended: check later, and apart."
    if second.had_seen:
        yield f"{second.person} had seen the first answers: somebody has to check who has not."


def _letters(name: str) -> str:
    """A name without case, accents, spaces and punctuation."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    return "".join(character for character in plain if character.isalnum())


def _moment(time: str) -> datetime:
    if not _TIME.fullmatch(time):
        raise ValueError(f"A time looks like 2031-05-14T08:02:11.250Z, not {time!r}.")
    try:
        return datetime.fromisoformat(time)
    except ValueError:
        raise ValueError(f"{time!r} is no time of any calendar: write it again.") from None
