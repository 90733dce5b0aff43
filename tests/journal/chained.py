"""A journal of given bodies, chained as a job would chain them: data for tests."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from assistant.journal.chain import link
from assistant.journal.entry import Entry

__all__ = ["chained", "minute"]


def minute(number: int) -> str:
    """The time of an entry where one is written each minute."""
    return f"2031-05-14T08:{number:02d}:00.000Z"


def chained(
    bodies: Iterable[Mapping[str, Any]], time_of: Callable[[int], str] = minute
) -> list[Entry]:
    """The entries of a journal that holds these bodies; `time_of` is asked with their numbers."""
    made: list[Entry] = []
    for number, body in enumerate(bodies, 1):
        made.append(link(made[-1].line if made else None, number, time_of(number), body))
    return made
