"""A slow stroke as a technician without faults would tell it: data for tests, proof of nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from assistant.trade import ContactState, Sense, Sweep, Travel, Unit, to_turns

__all__ = ["Trip", "changed", "drawn_trips", "stroke"]

Trip = tuple[float, Sense]
"""Percent of travel, and the sense in which a rotor trips there."""


def drawn_trips(unit: Unit) -> dict[str, Trip]:
    """Every rotor as it is drawn."""
    return {rotor.name: (unit.trip(rotor), Sense.DRAWN) for rotor in unit.rotors}


def stroke(unit: Unit, trips: Mapping[str, Trip], toward: Travel = Travel.OPENING) -> Sweep:
    """The whole stroke; a rotor that is not named stands as drawn past its trip in closing."""
    opening = toward is Travel.OPENING
    away = {percent if opening else 100 - percent for percent, _ in trips.values()}
    sweep = Sweep(toward, _reading(unit, trips, 0 if opening else 100))
    for percent in sorted(away):
        place = percent if opening else 100 - percent
        just_past = place + (1e-6 if opening else -1e-6)
        turns = to_turns(percent, unit.stroke_turns.value)
        sweep = sweep.add(turns, _reading(unit, trips, just_past))
    return sweep.end(unit.stroke_turns.value)


def changed(sweep: Sweep, replacing: Mapping[int, Iterable[ContactState]]) -> Sweep:
    """The same stroke with some contacts read otherwise, from the stop on."""
    states = {contact: list(read) for contact, read in replacing.items()}
    told = Sweep(sweep.toward, {**sweep.start, **{c: read[0] for c, read in states.items()}})
    for number, point in enumerate(sweep.points, start=1):
        now = {contact: read[number] for contact, read in states.items()}
        told = told.add(point.turns, {**point.reading, **now})
    return told if sweep.length is None else told.end(sweep.length)


def _reading(unit: Unit, trips: Mapping[str, Trip], percent: float) -> dict[int, ContactState]:
    reading = {}
    for rotor in unit.rotors:
        side = Travel.CLOSING
        if rotor.name in trips:
            place, sense = trips[rotor.name]
            opened = (percent > place) == (sense is Sense.DRAWN)
            side = Travel.OPENING if opened else Travel.CLOSING
        reading.update(unit.past(rotor, side))
    return reading
