"""What one rotor's contacts did in a sweep, told without a judgement on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from assistant.trade.contacts import Reading
from assistant.trade.development import FULL_OPEN
from assistant.trade.motion import Travel
from assistant.trade.sweep import Point, Sweep
from assistant.trade.trip import Sense
from assistant.trade.turns import to_percent
from assistant.trade.unit import Rotor, Unit

__all__ = ["Course", "course", "stroke_of"]

_Groups = dict[tuple[int, ...], list[int]]


@dataclass(frozen=True, slots=True)
class Course:
    """What the contacts of a rotor did.

    Args:
        rotor: the rotor.
        points: the points of the sweep at which most of its contacts change over; none where
            most never do.
        point: the one of these that lies nearest to the drawn trip, or None.
        percent: where in travel that is.
        sense: the sense in which it changes over there.
        together: its contacts that go together.
        turned: contacts that change over where those do, but the other way round.
        apart: contacts that change over elsewhere or never, and at which points.
    """

    rotor: Rotor
    points: tuple[int, ...]
    point: Point | None
    percent: float | None
    sense: Sense | None
    together: tuple[int, ...]
    turned: tuple[int, ...]
    apart: Mapping[int, tuple[int, ...]]


def course(unit: Unit, sweep: Sweep, rotor: Rotor) -> Course:
    """What the contacts of a rotor did in a sweep; contacts that were not read are left out."""
    groups = _groups(sweep, rotor)
    points = max(groups, key=lambda way: _weight(unit, sweep, rotor, groups, way), default=())
    point = _nearest(unit, sweep, rotor, points)
    reading = sweep.start if point is None else point.reading
    as_past, as_before = _sides(unit, sweep, reading, groups.get(points, []), rotor)
    drawn = len(as_past) >= len(as_before)
    together, turned = (as_past, as_before) if drawn else (as_before, as_past)
    return Course(
        rotor=rotor,
        points=points,
        point=point,
        percent=None if point is None else _percent(unit, sweep, point),
        sense=None if point is None else Sense.DRAWN if drawn else Sense.INVERTED,
        together=together,
        turned=turned,
        apart=MappingProxyType(
            {contact: way for way, group in groups.items() if way != points for contact in group}
        ),
    )


def stroke_of(unit: Unit, sweep: Sweep) -> float:
    """Handwheel turns of the full stroke: as counted in the sweep, else as on the sheet."""
    return unit.stroke_turns.value if sweep.length is None else sweep.length


def _groups(sweep: Sweep, rotor: Rotor) -> _Groups:
    """The rotor's contacts by the points at which they change over."""
    groups: _Groups = {}
    for contact in sorted(rotor.contacts):
        if contact in sweep.start:
            groups.setdefault(sweep.changes(contact), []).append(contact)
    return groups


def _weight(
    unit: Unit, sweep: Sweep, rotor: Rotor, groups: _Groups, way: tuple[int, ...]
) -> tuple[int, bool, float]:
    """How much a group speaks for the rotor: its size, then that it changes, then how near."""
    point = _nearest(unit, sweep, rotor, way)
    near = 0.0 if point is None else -_away(unit, sweep, rotor, point)
    return len(groups[way]), bool(way), near


def _nearest(unit: Unit, sweep: Sweep, rotor: Rotor, way: tuple[int, ...]) -> Point | None:
    points = (sweep.points[number] for number in way)
    return min(points, key=lambda point: _away(unit, sweep, rotor, point), default=None)


def _away(unit: Unit, sweep: Sweep, rotor: Rotor, point: Point) -> float:
    return abs(_percent(unit, sweep, point) - unit.trip(rotor))


def _percent(unit: Unit, sweep: Sweep, point: Point) -> float:
    percent = to_percent(point.turns, stroke_of(unit, sweep))
    return percent if sweep.toward is Travel.OPENING else FULL_OPEN - percent


def _sides(
    unit: Unit, sweep: Sweep, reading: Reading, contacts: list[int], rotor: Rotor
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The contacts that stand as past the trip in the direction of the sweep, and the others."""
    past = unit.past(rotor, sweep.toward)
    as_past = tuple(contact for contact in contacts if reading[contact] == past[contact])
    return as_past, tuple(contact for contact in contacts if contact not in as_past)
