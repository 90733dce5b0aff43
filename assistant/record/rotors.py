"""What the journal says of each rotor: as found, which way it was turned, as set, as proved.

The trips as found and as left, and the contacts after setting, are what the procedure records of a
rotor. Where an older or another procedure records none, the contacts as found are those confirmed
last before the first advice that gave a direction, and as left those confirmed last after the last.
What counts no more says `assistant.journal.proofs`. A shaft that was to be turned may have been,
whether that was gone back over or not.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from assistant.journal.as_found import to_be_turned
from assistant.journal.entry import Entry
from assistant.journal.proofs import Proofs, Void
from assistant.journal.recorded import RecordedValue, recorded_in
from assistant.journal.standing import standing
from assistant.record.words import (
    States,
    clean,
    grouped,
    in_words,
    mapping_of,
    number_of,
    states_of,
    texts_of,
)
from assistant.trade.turns import to_turns

__all__ = ["Advised", "RotorResult", "Trip", "Undone", "rotors_of"]


@dataclass(frozen=True, slots=True)
class Advised:
    """What the program worked out for a rotor, once."""

    seq: int
    verdict: str
    turn: str | None
    leave: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trip:
    """Where a rotor changes over.

    Args:
        percent: of travel, 0 the closed seat.
        error: from the drawn trip in percent of travel, positive further open.
        error_turns: the same in handwheel turns; None where the stroke is not known.
        within: whether that is within the tolerance.
    """

    percent: float
    error: float
    error_turns: float | None
    within: bool


@dataclass(frozen=True, slots=True)
class Undone:
    """That a rotor's shaft was to be turned, that this was gone back over, and nothing tells it.

    Args:
        lines: of the directions to turn it.
        found: where it had been found to trip before them, if that was gone back over too.
    """

    lines: tuple[int, ...]
    found: Trip | None


@dataclass(frozen=True, slots=True)
class RotorResult:
    """One rotor.

    Args:
        name: its name.
        found: its contacts before it was set.
        advised: each advice.
        left: its contacts after it was set.
        agrees: whether every contact that was to be left in a state was confirmed in it; None
            where not all of them were confirmed after the last advice.
        trip_found: in words, where it was found to trip.
        found_at: the same in numbers; None where the journal holds it in words alone.
        found_void: from where on, and why, that is not how it was found.
        trip: where it was proved to trip; None where it was not, or where that counts no more.
        proved_at: the line of that proof.
        setting: "set"; "begun" where its shaft was to be turned and its contacts were not confirmed
            since; "undone" where only what was gone back over had it turned; "left" where it was
            left as found; "none" where it was not to be turned.
        undone: where its shaft was to be turned, of which the answers that count tell nothing.
        was: where it was proved before that became void; None where it was not, or where it counts.
        void: from where on, and why, that proof counts no more.
        left_void: the same of its contacts after it was set.
    """

    name: str
    found: str | None
    advised: tuple[Advised, ...]
    left: str | None
    agrees: bool | None
    trip_found: str | None
    found_at: Trip | None
    found_void: Void | None
    trip: Trip | None
    proved_at: int | None
    setting: str
    undone: Undone | None
    was: Trip | None
    void: Void | None
    left_void: Void | None

    @property
    def first_found(self) -> Trip | None:
        """Where it tripped before its shaft was to be turned, as far as that is known."""
        if self.undone is not None and self.undone.found is not None:
            return self.undone.found
        return self.found_at if self.found_void is None else None


def rotors_of(
    entries: Sequence[Entry], proofs: Proofs, stroke_turns: float | None
) -> Iterator[RotorResult]:
    """Every rotor that was advised on or of which something was recorded, first named first.

    Args:
        entries: of the journal, all of them.
        proofs: of the job.
        stroke_turns: handwheel turns of the full stroke, where they are known.
    """
    advised: dict[str, list[tuple[int, Mapping[str, Any]]]] = {}
    counting = standing(entries)
    count = {entry.seq for entry in counting}
    for entry in entries:
        if entry.seq not in count:
            if turned := to_be_turned(entry):
                advised.setdefault(clean(turned), [])
            continue
        advice = mapping_of(entry.body.get("advice"))
        if "rotor" in advice:
            advised.setdefault(in_words(advice["rotor"]), []).append((entry.seq, advice))
        for value in recorded_in(entry):
            if value.rotor:
                advised.setdefault(clean(value.rotor), [])
    for name, given in advised.items():
        result = _rotor(name, given, counting, proofs, stroke_turns)
        yield _with_undone(result, entries, count, stroke_turns)


def _with_undone(
    result: RotorResult, entries: Sequence[Entry], count: set[int], stroke_turns: float | None
) -> RotorResult:
    """The result, and where its shaft was to be turned by what was gone back over."""
    turns = [entry.seq for entry in entries if clean(to_be_turned(entry)) == result.name]
    last = max((line for line in turns if line in count), default=0)
    # A later direction that counts tells it, if the rotor was not read as found in between.
    lines = [
        line
        for line in turns
        if line not in count and (line > last or result.found_void is not None)
    ]
    if not lines:
        return result
    before = [entry for entry in entries if entry.seq < lines[0]]
    first = _first_found(result.name, before, count)
    undone = Undone(tuple(lines), None if first is None else _trip(first, stroke_turns))
    return replace(result, undone=undone, setting=result.setting if last else "undone")


def _first_found(name: str, entries: Sequence[Entry], count: set[int]) -> Any:
    """Where a rotor was found first, as it was written; None where that counts, or is not told."""
    for entry in entries:
        for value in recorded_in(entry):
            if value.short == "trip-as-found" and clean(value.rotor) == name:
                return None if entry.seq in count else value.written
    return None


def _last_recorded(name: str, entries: Sequence[Entry]) -> dict[str, tuple[int, RecordedValue]]:
    """What the entries record of a rotor, by the last part of its name; the later value counts."""
    return {
        value.short: (entry.seq, value)
        for entry in entries
        for value in recorded_in(entry)
        if clean(value.rotor) == name
    }


def _rotor(
    name: str,
    given: Sequence[tuple[int, Mapping[str, Any]]],
    entries: Sequence[Entry],
    proofs: Proofs,
    stroke_turns: float | None,
) -> RotorResult:
    directed = [
        (seq, states_of(advice.get("leave"))) for seq, advice in given if advice.get("turn")
    ]
    found: States = {}
    left: States = {}
    leave: States = {}
    last_turned = 0
    if directed:
        first, (last_turned, leave) = directed[0][0], directed[-1]
        contacts = {contact for _, states in directed for contact in states}
        found = _read(contacts, (entry for entry in entries if entry.seq <= first))
        left = _read(contacts, (entry for entry in entries if entry.seq > last_turned))
    recorded = _last_recorded(name, entries)
    written = {short: value.written for short, (_, value) in recorded.items()}
    set_at = recorded["after-setting"][0] if "after-setting" in recorded else 0
    left_void = None
    if set_at > last_turned:
        left = states_of(written["after-setting"])
        left_void = proofs.of(*recorded["after-setting"])
    proof, void = _trip(written.get("as-left"), stroke_turns), None
    if proof is not None:
        void = proofs.of(*recorded["as-left"])
    whole = bool(leave) and leave.keys() <= left.keys()
    found_void = None
    for short in ("as-found", "trip-as-found"):
        if short in recorded:
            found_void = proofs.of(*recorded[short])
    return RotorResult(
        name=name,
        found=grouped(found) or None,
        advised=tuple(_advised(seq, advice) for seq, advice in given),
        left=grouped(left) or None,
        agrees=left == leave if whole and left_void is None else None,
        trip_found=in_words(written["as-found"]) if "as-found" in written else None,
        found_at=_trip(written.get("trip-as-found"), stroke_turns),
        found_void=found_void,
        trip=proof if void is None else None,
        proved_at=recorded["as-left"][0] if proof is not None and void is None else None,
        setting=_setting(
            directed=bool(directed),
            confirmed=set_at > last_turned or whole,
            left="left-as-found" in recorded,
        ),
        undone=None,
        was=None if void is None else proof,
        void=void,
        left_void=left_void,
    )


def _setting(*, directed: bool, confirmed: bool, left: bool) -> str:
    if directed:
        return "set" if confirmed else "begun"
    return "left" if left else "none"


def _trip(written: Any, stroke_turns: float | None) -> Trip | None:
    told = mapping_of(written)
    percent, error = number_of(told.get("percent")), number_of(told.get("error"))
    match percent, error, told.get("within"):
        case float(), float(), bool(within):
            turns = None if stroke_turns is None else to_turns(error, stroke_turns)
            return Trip(percent, error, turns, within)
    return None


def _read(contacts: set[int], entries: Iterator[Entry]) -> States:
    """The contacts as they were confirmed, a later reading before an earlier one."""
    seen: States = {}
    for entry in entries:
        for value in mapping_of(entry.body.get("confirmed")).values():
            seen.update(states_of(value))
    return {contact: state for contact, state in seen.items() if contact in contacts}


def _advised(seq: int, advice: Mapping[str, Any]) -> Advised:
    turn = advice.get("turn")
    return Advised(
        seq=seq,
        verdict=in_words(advice.get("verdict")),
        turn=in_words(turn) if turn else None,
        leave=grouped(states_of(advice.get("leave"))),
        reasons=texts_of(advice.get("reasons")),
    )
