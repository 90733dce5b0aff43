"""Random units for a campaign: every kind of unit, and rotors as they may be found."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping

from assistant.rig.gearing import Gearing
from assistant.trade.development import Development, Interval
from assistant.trade.motion import Rotation, Travel
from assistant.trade.travel import (
    DEFAULT_BACK_OFF_OPEN,
    DEFAULT_BACK_OFF_POSITION,
    DEFAULT_BACK_OFF_TORQUE,
)
from assistant.trade.unit import (
    DEFAULT_TOLERANCE,
    Lamp,
    Place,
    Rotor,
    Seating,
    Sourced,
    Unit,
)

__all__ = ["unit_from"]

_ENDS = (
    ("open", (1, 2, 3, 4), Place.OPEN_END, Travel.OPENING),
    ("closed", (5, 6, 7, 8), Place.CLOSED_END, Travel.CLOSING),
)
_OTHERS = (("third", (9, 10, 11, 12)), ("fourth", (13, 14, 15, 16)))


_BANDS = ((20, 42), (58, 80))
"""Where in travel the third and fourth rotor are drawn, in percent: apart from each other."""

_LEAST_BYPASS = 0.25
"""Handwheel turns by which a bypass may be off and still hold until the disk leaves its seat."""

_SHORT_OF_STOP = 0.9
"""A tolerance is at most this part of the way from the trip of an end rotor to its stop."""

_OFF = 8.0
"""How far from the drawing a rotor is found at most that trips within the stroke, in percent."""


def unit_from(rng: random.Random) -> tuple[Unit, dict[str, Gearing]]:
    """A random unit, and how each of its rotors is geared and was set before.

    Two or four rotors, both seating modes, strokes of 30 to 200 turns, contacts that make or break
    in any mixture, lamps in either colour, cycles longer than a stroke and known to the sheet or
    not. A rotor is found right, some way off in its drawn sense, or not tripping in the stroke.
    """
    stroke = float(rng.randint(30, 200))
    seating = rng.choice(list(Seating))
    trips = dict(_trips(rng, stroke, seating))
    rotors = tuple(_rotors(rng, len(trips)))
    closed = {
        contact: line
        for rotor in rotors
        for contact, line in _lines(rng, rotor, trips[rotor.name]).items()
    }
    cycle = rng.uniform(45, 90)
    unit = Unit(
        tag=f"KF-{rng.randint(20, 98)}",
        service="an invented valve",
        drawing=f"KF-E-{rng.randint(300, 899)}",
        revision=rng.choice("ABCDEFGH"),
        seating=seating,
        rotors=rotors,
        development=Development(closed),
        lamps=tuple(_lamps(rng, closed)),
        stroke_turns=Sourced(stroke, "turns", "invented"),
        back_off_open=DEFAULT_BACK_OFF_OPEN,
        back_off_torque=DEFAULT_BACK_OFF_TORQUE,
        back_off_position=DEFAULT_BACK_OFF_POSITION,
        cycle_revolutions=Sourced(cycle, "revolutions", "invented") if rng.random() < 0.5 else None,
        tolerance=_tolerance(trips),
        bypass=_bypass(closed, stroke),
    )
    return unit, {rotor.name: _gearing(rng, cycle, trips[rotor.name]) for rotor in rotors}


def _trips(rng: random.Random, stroke: float, seating: Seating) -> Iterator[tuple[str, float]]:
    """Where each rotor is drawn: the ends at their back-off, the others at whole percents."""
    torque = seating is Seating.TORQUE
    back_off = DEFAULT_BACK_OFF_TORQUE if torque else DEFAULT_BACK_OFF_POSITION
    yield "open", 100 - DEFAULT_BACK_OFF_OPEN.value / stroke * 100
    yield "closed", back_off.value / stroke * 100
    if rng.random() < 0.5:
        for (name, _), (least, most) in zip(_OTHERS, _BANDS, strict=True):
            yield name, float(rng.randint(least, most))


def _tolerance(trips: Mapping[str, float]) -> Sourced:
    """The default, or less where that reaches a stop: of a long stroke a turn is few percent."""
    nearest = min(100 - trips["open"], trips["closed"])
    if nearest * _SHORT_OF_STOP > DEFAULT_TOLERANCE.value:
        return DEFAULT_TOLERANCE
    return Sourced(nearest * _SHORT_OF_STOP, "%", "invented")


def _rotors(rng: random.Random, count: int) -> Iterator[Rotor]:
    for name, contacts, place, travel in _ENDS:
        yield Rotor(name, contacts, place, travel)
    for name, contacts in _OTHERS[: count - len(_ENDS)]:
        yield Rotor(name, contacts, Place.TRAVEL, rng.choice(list(Travel)))


def _lines(rng: random.Random, rotor: Rotor, trip: float) -> dict[int, tuple[Interval, ...]]:
    """Where each contact of a rotor is closed: at least one on either side of the trip."""
    below, above = ((0.0, trip),), ((trip, 100.0),)
    lines = [below, above, rng.choice([below, above]), rng.choice([below, above])]
    rng.shuffle(lines)
    return dict(zip(rotor.contacts, lines, strict=True))


def _bypass(closed: dict[int, tuple[Interval, ...]], stroke: float) -> int | None:
    """A contact that is closed at the seat; none where the tolerance is wider than its place."""
    if DEFAULT_TOLERANCE.value / 100 * stroke > _LEAST_BYPASS:
        return None
    return next((contact for contact in (5, 6, 7, 8) if closed[contact][0][0] == 0.0), None)


def _lamps(rng: random.Random, closed: dict[int, tuple[Interval, ...]]) -> Iterator[Lamp]:
    """The usual pair: dark where the motor stops, lit everywhere else."""
    colours = rng.sample(["red", "green", "white"], 2)
    stops_open = [contact for contact in (1, 2, 3, 4) if closed[contact][0][0] == 0.0]
    stops_closed = [contact for contact in (5, 6, 7, 8) if closed[contact][0][1] == 100.0]
    yield Lamp("closed lamp", colours[0], rng.choice(stops_open))
    yield Lamp("open lamp", colours[1], rng.choice(stops_closed))


def _gearing(rng: random.Random, cycle: float, trip: float) -> Gearing:
    gears = Gearing(
        revolutions_per_stroke=cycle * rng.uniform(0.5, 0.9),
        rotation_while_opening=rng.choice(list(Rotation)),
        cycle=cycle,
    )
    found = rng.random()
    if found < 0.25:
        return gears.tripping_at(trip)
    if found < 0.75:
        return gears.tripping_at(min(max(trip + rng.uniform(-_OFF, _OFF), 0.5), 99.5))
    return gears.standing_past(rng.choice(list(Travel)))
