"""Bring a session to where its journal ends, by giving it the same events again.

Continuing after a power cut, reviewing a job and verifying it all take this one path. What the
session decides while it is replayed must be what the journal says that it decided; its sentences
may have been reworded by a newer program and are not compared (`decisions`).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from assistant.journal.decisions import DECISIONS, DECISIONS_OF
from assistant.journal.entry import FORMAT_1, FORMAT_2, FORMAT_3, FORMAT_4, REVIEW_KINDS, Entry
from assistant.session.account import decided
from assistant.session.core import Session
from assistant.session.effects import Effect
from assistant.session.events import Event, Opened, event_from_json
from assistant.session.rules import Rules

__all__ = ["Happened", "ReplayError", "replay"]

Happened = tuple[Event, tuple[Effect, ...]]
"""An event and what it led to."""

RULES_OF: Mapping[str, Rules] = {
    FORMAT_4: Rules.SECOND,
    FORMAT_3: Rules.FIRST,
    FORMAT_2: Rules.FIRST,
    FORMAT_1: Rules.FIRST,
}
"""The rules by which a job of each older format is decided, to its end."""

_LONGEST = 100
"""Characters of a value that a message shows."""


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


def replay(
    session: Session,
    entries: Iterable[Entry],
    watch: Callable[[Event, tuple[Effect, ...]], None] = lambda _event, _effects: None,
) -> None:
    """Give a new session the events of the entries; verdicts on the job are no events of it.

    Args:
        session: a new one of the same job.
        entries: of its journal.
        watch: is told each event and its effects.

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
        if isinstance(event, Opened):
            event = replace(event, rules=RULES_OF.get(str(entry.body.get("format")), event.rules))
        step = session.step
        try:
            effects = session.receive(event)
            now = decided(step, effects)
        except (AssertionError, KeyError, TypeError, AttributeError, ValueError) as error:
            # Only a forged line gets here: what the session is told in a job fits its question.
            raise ReplayError(entry.seq, "what it says was meant does not fit the step") from error
        for field, decision in decisions.items():
            was, given = decision(entry.body.get(field)), decision(now.get(field))
            if was != given:
                place, was, given = _apart(field, was, given)
                raise ReplayError(
                    entry.seq,
                    f"the journal says {_shown(was)} at '{place}', and what was heard and the "
                    f"procedure give {_shown(given)}",
                )
        watch(event, effects)


def _apart(place: str, said: Any, given: Any) -> tuple[str, Any, Any]:
    """Where in two JSON values the first difference is, and what stands there in each."""
    inner: Iterable[tuple[str, Any, Any]] = ()
    match said, given:
        case dict(), dict() if said.keys() == given.keys():
            inner = ((f"{place}, {name}", said[name], given[name]) for name in said)
        case list(), list() if len(said) == len(given):
            places = (f"{place} {number}" for number in range(1, len(said) + 1))
            inner = zip(places, said, given, strict=True)
    for where, one, other in inner:
        if one != other:
            return _apart(where, one, other)
    return place, said, given


def _shown(value: Any) -> str:
    """A value as it stands in the journal, cut where it is long."""
    if value is None:
        return "nothing"
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…"
