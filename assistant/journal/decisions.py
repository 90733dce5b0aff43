"""What of an entry was decided, and so has to come out the same in a replay.

The sentences that the program made stand in an entry as they were spoken, for whoever reads it, and
are not compared: a newer program may say the same better. What was decided stands beside them: the
kind of a hold, the verdict on a rotor and the way to turn it, a value as it is written.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from assistant.journal.entry import FORMAT, FORMAT_1, FORMAT_2, FORMAT_3, FORMAT_4
from assistant.procedure.texts import NAME

__all__ = ["DECISIONS", "DECISIONS_OF", "Decision"]

Decision = Callable[[Any], Any]
"""What of the value of a field was decided; of a value that no program writes, all of it."""


def _whole(value: Any) -> Any:
    return value


def _whether(value: Any) -> Any:
    """Of a field that holds a sentence: whether it is there."""
    return None if value is None else True


def _count(value: Any) -> Any:
    """Of a field that lists sentences: how many there are."""
    return len(value) if isinstance(value, list) else value


def _without(sentences: str) -> Decision:
    """Everything but a field within it that holds sentences."""

    def decision(value: Any) -> Any:
        if not isinstance(value, dict):
            return value
        return {name: inner for name, inner in value.items() if name != sentences}

    return decision


def _values(recorded: Any) -> Any:
    return [_value(told) for told in recorded] if isinstance(recorded, list) else recorded


def _value(told: Any) -> Any:
    """A recorded value as it is written; as it is said only where that is a name.

    What may be chosen is a name; with a space or a full stop it is the program's own wording.
    """
    match told:
        case {"written": _}:
            return _in_words_left_out(told)
        case {"value": str(words)} if not NAME.fullmatch(words):
            return _in_words_left_out(told)
    return told


_in_words_left_out = _without("value")

_DECISIONS_1: Mapping[str, Decision] = {
    "step": _whole,
    "begun": _whole,
    "done": _whole,
    "confirmed": _whole,
    "advice": _without("reasons"),
    "recorded": _values,
    "proved": _whole,
    "skipped": _whole,
    "went_back": _whole,
    "held": _whether,
    "hold_closed": _without("reason"),
    "note": _whole,
    "finished": _whole,
}

_DECISIONS_2: Mapping[str, Decision] = {**_DECISIONS_1, "failed": _whole}

_DECISIONS_4: Mapping[str, Decision] = {**_DECISIONS_2, "hold_kind": _whole}

DECISIONS: Mapping[str, Decision] = {**_DECISIONS_4, "deviations": _count}
"""The fields of an entry in which something is decided, and what of each."""

DECISIONS_OF: Mapping[str, Mapping[str, Decision]] = {
    FORMAT: DECISIONS,
    FORMAT_4: _DECISIONS_4,
    FORMAT_3: _DECISIONS_2,
    FORMAT_2: _DECISIONS_2,
    FORMAT_1: _DECISIONS_1,
}
"""The same for each format of journal that this program reads.

A program that decides more than an older one writes a format with a higher number, and compares in
an older journal what was decided then: an old job opens.
"""
