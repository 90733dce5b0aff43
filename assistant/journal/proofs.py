"""Which of a job's proofs still count: from a free shaft on none does, until it is made anew.

A rotor was set and proved on a shaft that was locked since. Where a shaft is found free, or does
not stand as it was left, any rotor may have moved, so that what was set and proved before shows
nothing any more; where a shaft is turned again, that holds of its own rotor. Common practice, no
source. What a shaft did is of the valve: going back over the answer neither makes it locked nor
turns it back.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.as_found import OF_AS_FOUND, AsFound, to_be_turned
from assistant.journal.entry import Entry
from assistant.journal.recorded import RecordedValue, recorded_in
from assistant.journal.standing import taken_back
from assistant.procedure.deeds import Fact
from assistant.procedure.program import Program
from assistant.procedure.proofs import tries_shafts
from assistant.session.holds import HoldKind

__all__ = ["LockedBy", "Proofs", "Void", "locked_by"]

LockedBy = Mapping[str, frozenset[str]]
"""Each step that has the shafts tried, and by which outcomes they are locked."""

_OF_A_PROOF = frozenset({"as-left", "error", "before-the-trip", "trip-as-checked"})
_OF_A_SETTING = frozenset({"after-setting"})

_FREE = "a shaft was found free"
_MOVED = "after a break it did not stand as it had been left"
_TURNED = "its shaft was to be turned again"
_TURNED_BEFORE = "its shaft was to be turned before it was read"

_FREE_CHOICES = ({"choice": "free"}, {"choice": "moved"})
"""How the shipped procedures name it, of today and before."""

_BY_HOLD: Mapping[str, str] = {HoldKind.SHAFT_FREE: _FREE, HoldKind.MOVED: _MOVED}

_BY_DEVIATION: Mapping[str, str] = {
    "A shaft was found free. What was proved before may not hold any more.": _FREE,
    "After a break the valve, the rod or a shaft did not stand as it had been left.": _MOVED,
}
"""The same in the sentences of programs that kept no kind of a hold, to format 3."""


@dataclass(frozen=True, slots=True)
class Void:
    """Where proofs became void.

    Args:
        line: of the journal.
        why: in words.
        rotor: whose; None for every rotor.
    """

    line: int
    why: str
    rotor: str | None = None


def locked_by(program: Program) -> LockedBy:
    """The steps of a procedure that have the shafts tried, with what tells that they are locked."""
    return {
        name: frozenset(
            outcome for outcome, facts in node.step.proves.items() if Fact.RODS_ENGAGED in facts
        )
        for name, node in program.nodes.items()
        if tries_shafts(node)
        and any(Fact.RODS_ENGAGED in facts for facts in node.step.proves.values())
    }


class Proofs:
    """The proofs of a job, and where they became void.

    Args:
        entries: of its journal, all of them.
        locked: by its procedure, see `locked_by`; without it the choices "free" and "moved" tell.
    """

    def __init__(self, entries: Sequence[Entry], locked: LockedBy | None = None) -> None:
        gone = taken_back(entries)
        self.voids = tuple(
            void for entry in entries for void in (*_found_free(entry, locked), *_turned(entry))
        )
        proved = [
            (entry.seq, value)
            for entry in entries
            for value in recorded_in(entry)
            if value.short == "as-left"
        ]
        self._first_proved = proved[0][0] if proved else None
        self._right = {
            value.rotor: line
            for line, value in proved
            if line not in gone and _is_within(value.written)
        }
        self._as_found = AsFound(entries)

    @property
    def free(self) -> tuple[Void, ...]:
        """Where a shaft was found free, or moved."""
        return tuple(void for void in self.voids if void.rotor is None)

    @property
    def lost(self) -> Void | None:
        """Where every proof was lost last; None where none was lost by a shaft that was free."""
        first = self._first_proved
        lost = [void for void in self.free if first is not None and void.line >= first]
        return lost[-1] if lost else None

    def of(self, line: int, value: RecordedValue) -> Void | None:
        """Why a recorded value counts no more; None where it counts, or shows no rotor."""
        if value.short in _OF_A_PROOF:
            return self.of_proof(line, value.rotor)
        if value.short in OF_AS_FOUND:
            return self._of_as_found(line, value.rotor)
        return self.of_setting(line, value.rotor) if value.short in _OF_A_SETTING else None

    def of_proof(self, line: int, rotor: str) -> Void | None:
        """Why a proof of a rotor counts no more; None where it does.

        Args:
            line: of the journal, at which it was recorded.
            rotor: its name.
        """
        later = (void for void in self.voids if void.line >= line and void.rotor in (None, rotor))
        return next(later, None)

    def of_setting(self, line: int, rotor: str) -> Void | None:
        """The same of how a rotor was set: that it was proved since makes that count again."""
        right = self._right.get(rotor, 0)
        later = (
            void
            for void in self.voids
            if void.line >= line
            and (void.rotor == rotor or (void.rotor is None and void.line >= right))
        )
        return next(later, None)

    def _of_as_found(self, line: int, rotor: str) -> Void | None:
        """Why a rotor is not as it was found where that was recorded; None where it is."""
        turned = self._as_found.turned_before(line, rotor)
        return Void(turned, _TURNED_BEFORE, rotor) if turned else None


def _found_free(entry: Entry, locked: LockedBy | None) -> Iterator[Void]:
    """That a shaft was found free, or something moved, where an entry says so."""
    if (why := _BY_HOLD.get(str(entry.body.get("hold_kind")))) is not None:
        yield Void(entry.seq, why)
        return
    for text in _listed(entry.body.get("deviations")):
        if (why := _BY_DEVIATION.get(str(text))) is not None:
            yield Void(entry.seq, why)
            return
    if any(_answered_free(entry, locked)):
        yield Void(entry.seq, _FREE)


def _answered_free(entry: Entry, locked: LockedBy | None) -> Iterator[bool]:
    """Of each answer whether it tells that the shafts are not locked."""
    confirmed = entry.body.get("confirmed")
    outcomes = dict(_outcomes(entry))
    for step, answer in confirmed.items() if isinstance(confirmed, Mapping) else ():
        if locked is None:
            yield answer in _FREE_CHOICES
        else:
            yield step in locked and outcomes.get(step) not in locked[step]


def _outcomes(entry: Entry) -> Iterator[tuple[str, str]]:
    for told in _listed(entry.body.get("done")):
        match told:
            case {"step": str(step), "outcome": str(outcome)}:
                yield step, outcome


def _turned(entry: Entry) -> Iterator[Void]:
    """That a rotor's shaft was to be turned, whether that was gone back over or not."""
    if rotor := to_be_turned(entry):
        yield Void(entry.seq, _TURNED, rotor)


def _is_within(written: Any) -> bool:
    return isinstance(written, Mapping) and written.get("within") is True


def _listed(value: Any) -> Sequence[Any]:
    return value if isinstance(value, list) else ()
