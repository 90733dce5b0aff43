"""Whether a reading shows a rotor as it was found: once its shaft was to be turned, none does.

Going back over it undoes the record and not the turn, so that readings which are taken again then
are of a rotor as it was left. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.journal.entry import Entry
from assistant.journal.recorded import recorded_in
from assistant.journal.standing import taken_back

__all__ = ["OF_AS_FOUND", "AsFound", "to_be_turned"]

OF_AS_FOUND = frozenset({"as-found", "trip-as-found", "left-as-found"})
"""What a job records of a rotor as it was found."""

_SWEEP = frozenset({"at-closed-stop", "then", "at-open-stop"})
"""The readings of the slow stroke from which that is worked out."""


def to_be_turned(entry: Entry) -> str:
    """The rotor whose shaft was to be turned by an entry's advice; empty where none was."""
    match entry.body.get("advice"):
        case {"rotor": str(rotor), "turn": str(turn)} if turn:
            return rotor
    return ""


class AsFound:
    """Where a job read how its rotors were found, and where their shafts were to be turned.

    Args:
        entries: of its journal, all of them.
    """

    def __init__(self, entries: Sequence[Entry]) -> None:
        gone = taken_back(entries)
        self._turns = [(entry.seq, name) for entry in entries if (name := to_be_turned(entry))]
        swept = _recording(_SWEEP, entries)
        self._swept = [line for line in swept if line not in gone]
        # A procedure without a stroke reads it where it is recorded.
        self._read = swept or _recording(OF_AS_FOUND, entries)

    def turned_before(self, line: int, rotor: str) -> int:
        """Where a rotor's shaft was to be turned before it was read as found; 0 where it was not.

        Args:
            line: of the journal, at which it is recorded how the rotor was found.
            rotor: its name.
        """
        read = max((one for one in self._swept if one <= line), default=line)
        return next((turn for turn, name in self._turns if name == rotor and turn < read), 0)

    def is_past(self, line: int) -> bool:
        """Whether from a line on it would be read as found again, and a shaft was turned since."""
        return any(line <= read < turn for read in self._read for turn, _ in self._turns)


def _recording(names: frozenset[str], entries: Sequence[Entry]) -> list[int]:
    """The lines that record a value under one of the names."""
    return [
        entry.seq for entry in entries if any(value.short in names for value in recorded_in(entry))
    ]
