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
from assistant.record.words import States, grouped, in_words, mapping_of, states_of, texts_of

__all__ = ["Advised", "RotorResult", "rotors_of"]


@dataclass(frozen=True, slots=True)
class Advised:
    """What the program worked out for a rotor, once."""

    seq: int
    verdict: str
    turn: str | None
    leave: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ProvedTrip:
    """A trip proved by hand, in percent of travel, and whether it is within tolerance."""

    percent: str
    error: str
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
        trip: where it was proved to trip, None where it was not proved.
    """

    name: str
    found: str | None
    advised: tuple[Advised, ...]
    left: str | None
    agrees: bool | None
    trip_found: str | None
    trip: ProvedTrip | None


def rotors_of(entries: Sequence[Entry]) -> Iterator[RotorResult]:
    """Every rotor that was advised on or of which something was recorded, first named first."""
    advised: dict[str, list[tuple[int, Mapping[str, Any]]]] = {}
    for entry in entries:
        advice = mapping_of(entry.body.get("advice"))
        if "rotor" in advice:
            advised.setdefault(in_words(advice["rotor"]), []).append((entry.seq, advice))
        for name in _recorded_of(entry):
            advised.setdefault(name, [])
    for name, given in advised.items():
        yield _rotor(name, given, entries)


def _recorded_of(entry: Entry) -> Mapping[str, Mapping[str, Mapping[str, Any]]]:
    """For each rotor what an entry records of it, by the last part of its name."""
    found: dict[str, dict[str, Mapping[str, Any]]] = {}
    listed = entry.body.get("recorded")
    for value in listed if isinstance(listed, list) else ():
        match value:
            case {"name": str(name), "rotor": str(rotor)}:
                found.setdefault(in_words(rotor), {})[name.rpartition("/")[2]] = value
    return found


def _rotor(
    name: str, given: Sequence[tuple[int, Mapping[str, Any]]], entries: Sequence[Entry]
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
    recorded: dict[str, Mapping[str, Any]] = {}
    for entry in entries:
        recorded |= _recorded_of(entry).get(name, {})
    if "after-setting" in recorded:
        left = states_of(recorded["after-setting"].get("written"))
    return RotorResult(
        name=name,
        found=grouped(found) or None,
        advised=tuple(_advised(seq, advice) for seq, advice in given),
        left=grouped(left) or None,
        agrees=left == leave if leave and leave.keys() <= left.keys() else None,
        trip_found=in_words(recorded["as-found"].get("value")) if "as-found" in recorded else None,
        trip=_trip(mapping_of(recorded.get("as-left")).get("written")),
    )


def _trip(written: Any) -> ProvedTrip | None:
    match written:
        case {"percent": percent, "error": error, "within": bool(within)}:
            return ProvedTrip(f"{in_words(percent)} %", f"{in_words(error)} %", within)
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
