"""What a sweep shows that no setting of a rotor explains.

A rotor can be set to trip anywhere, so that one trips in the wrong place, or not at all in the
stroke, is no pattern. Rotors exchanged, contacts that do not go with their rotor, a rotor that is
inverted or trips twice are: there the wiring, the gears or the drawing is wrong, or a shaft was
once turned the wrong way, and somebody has to look before anything is turned.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from assistant.trade.course import Course, course, stroke_of
from assistant.trade.development import name_contacts
from assistant.trade.sweep import Sweep
from assistant.trade.trip import Sense
from assistant.trade.turns import to_percent
from assistant.trade.unit import Rotor, Unit

__all__ = ["NEAR_TOLERANCES", "NEAR_TURNS", "Pattern", "PatternKind", "patterns"]

NEAR_TOLERANCES = 3.0
"""A trip within so many tolerances of a place counts as near it (default of this program)."""

NEAR_TURNS = 2.0
"""So does one within so many handwheel turns (default of this program)."""


class PatternKind(enum.StrEnum):
    """What no setting explains."""

    SWAPPED = "swapped"
    INVERTED = "inverted"
    WELDED = "welded"
    ELSEWHERE = "elsewhere"
    DOUBLE = "double"


@dataclass(frozen=True, slots=True)
class Pattern:
    """Something that no setting explains.

    Args:
        kind: what it is.
        contacts: the contacts that show it, ascending.
        text: one short sentence in the technician's words, fit to be spoken.
    """

    kind: PatternKind
    contacts: tuple[int, ...]
    text: str


def patterns(unit: Unit, sweep: Sweep) -> tuple[Pattern, ...]:
    """Everything in a sweep that no setting explains.

    Swapped rotors come first and are not called inverted as well. Two rotors that are drawn near
    each other cannot be told apart by where they trip, so they are never called swapped. Two whose
    contacts make alike are called so also if both were only set in each other's place.
    """
    ways = tuple(course(unit, sweep, rotor) for rotor in unit.rotors)
    swapped = [pair for pair in combinations(ways, 2) if _are_swapped(unit, sweep, *pair)]
    exchanged = {way.rotor for pair in swapped for way in pair}
    found = [_swapped(*pair) for pair in swapped]
    for way in ways:
        if way.rotor not in exchanged:
            found.extend(_of_rotor(way))
        found.extend(_of_contacts(way, ways))
    return tuple(found)


def _are_swapped(unit: Unit, sweep: Sweep, one: Course, other: Course) -> bool:
    return _is_like(unit, sweep, one, other.rotor) and _is_like(unit, sweep, other, one.rotor)


def _is_like(unit: Unit, sweep: Sweep, way: Course, other: Rotor) -> bool:
    """Whether a rotor changes over once, as another one is drawn and where, and not near its own.

    The first contact of one stands for the first of the other, and so on.
    """
    if way.point is None or way.percent is None or len(way.points) > 1:
        return False
    if len(way.rotor.contacts) != len(other.contacts):
        return False
    near = max(
        NEAR_TOLERANCES * unit.tolerance.value, to_percent(NEAR_TURNS, stroke_of(unit, sweep))
    )
    there = abs(way.percent - unit.trip(other)) <= near < abs(way.percent - unit.trip(way.rotor))
    past = unit.past(other, sweep.toward)
    pairs = zip(way.rotor.contacts, other.contacts, strict=True)
    return there and all(
        way.point.reading[own] == past[its] for own, its in pairs if own in way.together
    )


def _swapped(one: Course, other: Course) -> Pattern:
    contacts = tuple(sorted((*one.rotor.contacts, *other.rotor.contacts)))
    text = (
        f"The {one.rotor.name} and {other.rotor.name} rotors are swapped: each changes over where "
        "the other is drawn."
    )
    return Pattern(PatternKind.SWAPPED, contacts, text)


def _of_rotor(way: Course) -> Iterator[Pattern]:
    contacts = tuple(sorted(way.rotor.contacts))
    if len(way.points) > 1:
        yield Pattern(
            PatternKind.DOUBLE,
            contacts,
            f"The {way.rotor.name} rotor changes over more than once in the stroke: its gears or "
            "its wiring are not as drawn.",
        )
    elif way.sense is Sense.INVERTED:
        yield Pattern(
            PatternKind.INVERTED,
            contacts,
            f"The {way.rotor.name} rotor is inverted: its contacts make where they should break.",
        )


def _of_contacts(way: Course, ways: tuple[Course, ...]) -> Iterator[Pattern]:
    """What single contacts show that do not go with their rotor."""
    if way.turned:
        yield Pattern(PatternKind.ELSEWHERE, way.turned, _say_turned(way))
    apart: dict[tuple[int, ...], list[int]] = {}
    for contact, points in way.apart.items():
        apart.setdefault(points, []).append(contact)
    for points, group in apart.items():
        contacts = tuple(group)
        if not points:
            yield Pattern(PatternKind.WELDED, contacts, _say_welded(contacts))
        else:
            with_ = next((other for other in ways if other.points == points), None)
            yield Pattern(PatternKind.ELSEWHERE, contacts, _say_elsewhere(contacts, with_))


def _say_turned(way: Course) -> str:
    verb, pronoun = ("does", "it") if len(way.turned) == 1 else ("do", "they")
    return (
        f"{_named(way.turned)} {verb} not go with {name_contacts(way.together)}: {pronoun} may be "
        "wired the wrong way round."
    )


def _say_welded(contacts: tuple[int, ...]) -> str:
    verb, pronoun = ("changes", "it") if len(contacts) == 1 else ("change", "they")
    return f"{_named(contacts)} never {verb}: {pronoun} may be welded, or wired elsewhere."


def _say_elsewhere(contacts: tuple[int, ...], other: Course | None) -> str:
    one = len(contacts) == 1
    pronoun = "it" if one else "they"
    if other is None:
        verb = "does" if one else "do"
        return (
            f"{_named(contacts)} {verb} not change over with {'its' if one else 'their'} rotor: "
            f"{pronoun} may be wired elsewhere, or misread."
        )
    verb = "changes" if one else "change"
    return (
        f"{_named(contacts)} {verb} over with the {other.rotor.name} rotor: {pronoun} may be "
        "wired elsewhere."
    )


def _named(contacts: tuple[int, ...]) -> str:
    return name_contacts(contacts).capitalize()
