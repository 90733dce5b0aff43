"""What the journal says of each rotor: as found, which way it was turned, as set, as proved.

The trips as found and as left, and the contacts after setting, are what the procedure records of a
rotor. Where an older or another procedure records none, the contacts as found are those confirmed
last before the first advice that gave a direction, and as left those confirmed last after the last.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.recorded import recorded_in
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

__all__ = ["Advised", "RotorResult", "Trip", "rotors_of"]


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
        trip: where it was proved to trip, None where it was not proved since its shaft was turned.
    """

    name: str
    found: str | None
    advised: tuple[Advised, ...]
    left: str | None
    agrees: bool | None
    trip_found: str | None
    found_at: Trip | None
    trip: Trip | None


def rotors_of(entries: Sequence[Entry], stroke_turns: float | None) -> Iterator[RotorResult]:
    """Every rotor that was advised on or of which something was recorded, first named first.

    Args:
        entries: those that count.
        stroke_turns: handwheel turns of the full stroke, where they are known.
    """
    advised: dict[str, list[tuple[int, Mapping[str, Any]]]] = {}
    for entry in entries:
        advice = mapping_of(entry.body.get("advice"))
        if "rotor" in advice:
            advised.setdefault(in_words(advice["rotor"]), []).append((entry.seq, advice))
        for value in recorded_in(entry):
            if value.rotor:
                advised.setdefault(clean(value.rotor), [])
    for name, given in advised.items():
        yield _rotor(name, given, entries, stroke_turns)


def _last_recorded(name: str, entries: Sequence[Entry]) -> dict[str, Any]:
    """What the entries record of a rotor, by the last part of its name; the later value counts."""
    return {
        value.short: value.written
        for entry in entries
        for value in recorded_in(entry)
        if clean(value.rotor) == name
    }


def _rotor(
    name: str,
    given: Sequence[tuple[int, Mapping[str, Any]]],
    entries: Sequence[Entry],
    stroke_turns: float | None,
) -> RotorResult:
    directed = [
        (seq, states_of(advice.get("leave"))) for seq, advice in given if advice.get("turn")
    ]
    found: States = {}
    left: States = {}
    leave: States = {}
    if directed:
        first, (last, leave) = directed[0][0], directed[-1]
        contacts = {contact for _, states in directed for contact in states}
        found = _read(contacts, (entry for entry in entries if entry.seq <= first))
        left = _read(contacts, (entry for entry in entries if entry.seq > last))
    recorded = _last_recorded(name, entries)
    last_turned = directed[-1][0] if directed else 0
    # A proof from before the shaft was turned again proves nothing of where it is now.
    proved = _last_recorded(name, [entry for entry in entries if entry.seq > last_turned])
    if "after-setting" in recorded:
        left = states_of(recorded["after-setting"])
    return RotorResult(
        name=name,
        found=grouped(found) or None,
        advised=tuple(_advised(seq, advice) for seq, advice in given),
        left=grouped(left) or None,
        agrees=left == leave if leave and leave.keys() <= left.keys() else None,
        trip_found=in_words(recorded["as-found"]) if "as-found" in recorded else None,
        found_at=_trip(recorded.get("trip-as-found"), stroke_turns),
        trip=_trip(proved.get("as-left"), stroke_turns),
    )


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
