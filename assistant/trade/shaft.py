"""Which way to turn the intermediate shaft of a rotor.

Let d be the direction of travel in which the rotor is meant to change over, and s(d) the rotation
of its shaft while the valve travels in d. Turning the shaft by hand the way s(d) goes moves the
rotor as travel in d would; turning it the other way takes that back. So a rotor that has not yet
changed over is turned the way of s(d), and one that has is turned against it until it just changes
back. Whether it has changed over is told by comparing what was read with the contact development
just past the trip in d. The other way also ends at a change-over, but at the inverted one.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.trade.contacts import ContactState, Reading
from assistant.trade.development import name_contacts
from assistant.trade.motion import Rotation, Travel
from assistant.trade.unit import Rotor, Unit

__all__ = ["Advice", "AdviceError", "Verdict", "advise"]


class Verdict(enum.StrEnum):
    """Whether a rotor has changed over at the place where it is to be set."""

    ALREADY = "already"
    NOT_YET = "not-yet"
    CONTRADICTION = "contradiction"


class AdviceError(ValueError):
    """What was given is not enough, or not about this rotor."""


@dataclass(frozen=True, slots=True)
class Advice:
    """Which way to turn, and why.

    Args:
        verdict: what the reading says of the rotor.
        turn: rotation until it just changes; None on a contradiction.
        leave: the states in which every contact of the rotor is to be left, with the change-over
            just made; empty on a contradiction.
        reasons: short sentences in the technician's words.
    """

    verdict: Verdict
    turn: Rotation | None
    leave: Mapping[int, ContactState]
    reasons: tuple[str, ...]


def advise(unit: Unit, rotor: Rotor, seen: Mapping[Travel, Rotation], reading: Reading) -> Advice:
    """Tell which way to turn a rotor's shaft, with the valve standing where its trip is to be.

    Args:
        unit: the unit sheet.
        rotor: one of its rotors.
        seen: how this rotor's own shaft turned while the valve moved, for one or both directions.
        reading: states read on some or all of the rotor's contacts.

    Raises:
        AdviceError: nothing seen, nothing read, or something read that is not on this rotor.
    """
    _refuse_unusable(unit, rotor, seen, reading)
    past = unit.past(rotor)
    conflicts = (*_conflicts_seen(seen), *_conflicts_read(reading, past))
    if conflicts:
        return Advice(Verdict.CONTRADICTION, None, {}, conflicts)
    along = _rotation_while(rotor.set_while, seen)
    *why, shaft = _why_shaft(rotor.set_while, seen)
    if _agreeing(reading, past):
        turn = along.opposite
        reasons = (_why_already(reading), *why, f"{shaft}: turn the opposite way, {turn}.")
        return Advice(Verdict.ALREADY, turn, past, reasons)
    reasons = (_why_not_yet(reading), *why, f"{shaft}: turn the same way, {along}.")
    return Advice(Verdict.NOT_YET, along, past, reasons)


def _refuse_unusable(
    unit: Unit, rotor: Rotor, seen: Mapping[Travel, Rotation], reading: Reading
) -> None:
    if rotor not in unit.rotors:
        raise AdviceError(f"Rotor {rotor.name} is not a rotor of {unit.tag}.")
    if not seen:
        raise AdviceError(f"Watch the shaft of rotor {rotor.name} while you crank: none was seen.")
    if not reading:
        raise AdviceError(f"Read the contacts of rotor {rotor.name}: no reading was given.")
    if strangers := sorted(set(reading) - set(rotor.contacts)):
        raise AdviceError(
            f"Rotor {rotor.name} has {name_contacts(sorted(rotor.contacts))}; "
            f"{name_contacts(strangers)} cannot be read on it."
        )


def _rotation_while(travel: Travel, seen: Mapping[Travel, Rotation]) -> Rotation:
    return seen[travel] if travel in seen else seen[travel.opposite].opposite


def _agreeing(reading: Reading, past: Reading) -> dict[int, ContactState]:
    return {number: state for number, state in reading.items() if state == past[number]}


def _conflicts_seen(seen: Mapping[Travel, Rotation]) -> Iterator[str]:
    if len(seen) > len(set(seen.values())):
        rotation = seen[Travel.OPENING]
        yield f"The shaft cannot turn {rotation} both while opening and while closing."
        yield "Watch the same shaft again in both directions."


def _conflicts_read(reading: Reading, past: Reading) -> Iterator[str]:
    changed = _agreeing(reading, past)
    waiting = {number: state for number, state in reading.items() if number not in changed}
    if changed and waiting:
        # The first reason is spoken: it has to be short and to name the contacts.
        yield (
            f"{_states(changed).capitalize()}, as past the trip, but {_states(waiting)}, "
            "as before it."
        )
        yield "The contacts of one rotor change over together: read them again."
        yield "One is misread, the rotor stands in mid-turn, or the drawing is wrong."


def _why_already(reading: Reading) -> str:
    return (
        f"{_states(reading).capitalize()}, as past the trip: this rotor has already changed over."
    )


def _why_not_yet(reading: Reading) -> str:
    read = _states(reading).capitalize()
    if len(set(reading.values())) > 1:
        past = "it is the other way round"
    else:
        pronoun = "it is" if len(reading) == 1 else "they are"
        past = f"{pronoun} {next(iter(reading.values())).other}"
    return f"{read}; past the trip {past}: this rotor has not changed over yet."


def _why_shaft(travel: Travel, seen: Mapping[Travel, Rotation]) -> Iterator[str]:
    """Say how the shaft turns in that direction of travel; the last sentence stays open."""
    if travel in seen:
        yield f"While {travel}, its shaft turned {seen[travel]}"
        return
    watched = seen[travel.opposite]
    yield f"While {travel.opposite}, its shaft turned {watched}."
    yield "A shaft turns one way for opening and the other way for closing."
    yield f"So while {travel}, its shaft turns {watched.opposite}"


def _states(reading: Reading) -> str:
    """Say which contacts are in which state, lowest contact first."""
    groups: dict[ContactState, list[int]] = {}
    for number, state in sorted(reading.items()):
        groups.setdefault(state, []).append(number)
    return " and ".join(
        f"{name_contacts(numbers)} {'is' if len(numbers) == 1 else 'are'} {state}"
        for state, numbers in groups.items()
    )
