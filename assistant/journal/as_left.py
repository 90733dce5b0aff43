"""How a job says that it left the valve: the readings that count, each with its line.

A setting and an independent check of it record the same readings under the same names, so that this
module reads both. What was taken back by going back does not count, nor a proof that became void,
and a later reading counts before an earlier one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.proofs import LockedBy, Proofs
from assistant.journal.recorded import RecordedValue, recorded_in
from assistant.journal.standing import standing
from assistant.trade.motion import Rotation, Travel
from assistant.trade.unit import Rotor

__all__ = ["AsLeft", "Read"]

_SWEEP = ("at-closed-stop", "then", "at-open-stop")
"""The readings of a slow stroke from the closed to the open stop, in their order."""


@dataclass(frozen=True, slots=True)
class Read:
    """Something that was read, in words or as a number, and the line that holds it."""

    value: str | float
    line: int


_Found = tuple[int, RecordedValue]
"""A recorded value and its line."""


class AsLeft:
    """The readings of a job.

    Args:
        entries: of its journal.
        locked: by its procedure, see `assistant.journal.proofs.locked_by`.
    """

    def __init__(self, entries: Sequence[Entry], locked: LockedBy | None = None) -> None:
        self._proofs = Proofs(entries, locked)
        self._values = [
            (entry.seq, value) for entry in standing(entries) for value in recorded_in(entry)
        ]

    def text(self, name: str) -> Read | None:
        """A text or a spelling that was recorded."""
        match self._last((name,)):
            case int(line), RecordedValue(written=str(text)):
                return Read(text, line)
        return None

    def number(self, name: str) -> Read | None:
        """A number that was recorded, whatever its unit."""
        match self._last((name,)):
            case int(line), RecordedValue(written={"number": int() | float() as number}):
                return Read(float(number), line)
        return None

    def lamps(self, name: str) -> Read | None:
        """The lamps that were seen lit in a zone, in the order of their names."""
        match self._last((name,)):
            case int(line), RecordedValue(written={"lit": list(lit)}):
                return Read(", ".join(sorted(map(str, lit))) or "no lamp", line)
        return None

    def trip(self, rotor: Rotor) -> Read | None:
        """Where the rotor was proved, or found by a check, to change over, in percent of travel."""
        match self._counting(self._last(("as-left", "trip-as-checked"), rotor.name)):
            case int(line), RecordedValue(written={"percent": int() | float() as percent}):
                return Read(float(percent), line)
        return None

    def shaft_while_opening(self, rotor: Rotor) -> Read | None:
        """Which way the rotor's shaft turns while the valve opens, by what was watched."""
        turned = self._last(("shaft-turned",), rotor.name)
        cranking = self._last(("shaft-turned-cranking",), rotor.name)
        if turned is None or cranking is None:
            return None
        try:
            rotation = Rotation(turned[1].written)
            opening = Travel(cranking[1].written) is Travel.OPENING
        except ValueError:
            return None
        return Read((rotation if opening else rotation.opposite).value, turned[0])

    def before_the_trip(self, rotor: Rotor, contact: int) -> Read | None:
        """A contact of the rotor where its proof begins, before it changes over."""
        found = self._counting(self._last(("before-the-trip",), rotor.name))
        return _state(found, contact)

    def past_the_trip(self, rotor: Rotor, contact: int) -> Read | None:
        """A contact of the rotor past its trip, in the direction in which it is set.

        Where the rotor was set, as it was read then. Where it was not, as it was read at the end of
        the stroke: a rotor changes over once in it.
        """
        if (left := self._last(("after-setting",), rotor.name)) is not None:
            return _state(self._counting(left), contact)
        opening = rotor.set_while is Travel.OPENING
        # Where no change-over was told after it, the contacts stayed as they were to the open stop.
        swept = self._last(_SWEEP if opening else _SWEEP[:1])
        if swept is not None and self._proofs.of_setting(swept[0], rotor.name) is not None:
            return None
        return _state(swept, contact)

    def _counting(self, found: _Found | None) -> _Found | None:
        """The value, unless it became void."""
        return None if found is None or self._proofs.of(*found) is not None else found

    def _last(self, names: Sequence[str], rotor: str | None = None) -> _Found | None:
        """What was recorded last under one of the names; of a rotor where one is given."""
        named = (
            (line, value)
            for line, value in reversed(self._values)
            if value.short in names and rotor in (None, value.rotor)
        )
        return next(named, None)


def _state(found: _Found | None, contact: int) -> Read | None:
    match found:
        case int(line), RecordedValue(written={"contacts": dict(states)}):
            state: Any = states.get(str(contact))
            return Read(state, line) if isinstance(state, str) else None
    return None
