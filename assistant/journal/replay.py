"""Bring a session to where its journal ends, by giving it the same events again.

Continuing after a power cut, reviewing a job and verifying it all take this one path. What the
session decides while it is replayed must be what the journal says that it decided; the sentences
that it speaks may have been reworded by a newer program and are not compared.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from assistant.journal.entry import FORMAT, REVIEW_KINDS, Entry
from assistant.session.account import account
from assistant.session.core import Session
from assistant.session.events import event_from_json

__all__ = ["DECISIONS", "DECISIONS_OF", "ReplayError", "replay"]

DECISIONS: tuple[str, ...] = (
    "step",
    "begun",
    "done",
    "confirmed",
    "advice",
    "recorded",
    "proved",
    "skipped",
    "went_back",
    "held",
    "hold_closed",
    "note",
    "finished",
)
"""The fields of an entry that must come out the same."""

DECISIONS_OF: Mapping[str, tuple[str, ...]] = {FORMAT: DECISIONS}
"""The same for each format of journal that this program reads.

A program that decides more than an older one writes a format with a higher number, and compares in
an older journal what was decided then: an old job opens.
"""


class ReplayError(Exception):
    """The journal says something else than the procedure and the unit sheet give.

    Args:
        line: the line of the journal.
        what: what differs there.
    """

    def __init__(self, line: int, what: str) -> None:
        self.line = line
        self.what = what
        super().__init__(f"line {line}: {what}")


def replay(session: Session, entries: Iterable[Entry]) -> None:
    """Give a new session the events of the entries; verdicts on the job are no events of it.

    Raises:
        ReplayError: where an entry holds no event, or the session now decides otherwise.
    """
    decisions = DECISIONS
    for entry in entries:
        if entry.kind in REVIEW_KINDS:
            continue
        decisions = DECISIONS_OF.get(str(entry.body.get("format")), decisions)
        try:
            event = event_from_json(entry.time, entry.body)
        except ValueError as error:
            raise ReplayError(entry.seq, str(error)) from error
        step = session.step
        try:
            decided = account(step, event, session.receive(event))
        except (AssertionError, KeyError, TypeError, AttributeError, ValueError) as error:
            # Only a forged line gets here: what the session is told in a job fits its question.
            raise ReplayError(entry.seq, "what it says was meant does not fit the step") from error
        for field in decisions:
            if entry.body.get(field) != decided.get(field):
                raise ReplayError(
                    entry.seq,
                    f"the journal says {field}: {entry.body.get(field)!r}, "
                    f"the procedure gives {decided.get(field)!r}",
                )
