"""What can be wrong with a unit sheet.

Every check runs over the whole sheet, so that whoever wrote it gets all its faults at once, each
with the place in the sheet where it stands. How many rotors and contacts there are, and how they
are numbered, is common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean

from assistant.trade.development import FULL_OPEN, FULL_SHUT, Interval, name_contacts
from assistant.trade.sheet import ROTOR_NAMES, Lamp, Place, Rotor, Sheet
from assistant.trade.turns import quarter_turns, to_percent, to_turns

__all__ = [
    "CONTACTS_OF_A_ROTOR",
    "LARGEST",
    "NUMBERED",
    "ROTORS",
    "Fault",
    "UnitError",
    "sheet_faults",
]

NUMBERED = range(1, 17)
"""Numbers of contacts."""

CONTACTS_OF_A_ROTOR = range(1, 5)
"""How many."""

ROTORS = (2, 4)
"""How many a unit has."""

LARGEST = 1e6
"""No number of a sheet is larger."""

_HALF_TRAVEL = FULL_OPEN / 2
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a unit sheet.

    Args:
        path: the place in the sheet, for example ``("contacts", 3)`` or ``("rotors", "open")``.
        message: what is wrong there and what would be right.
    """

    path: tuple[str | int, ...]
    message: str

    def __str__(self) -> str:
        return f"{' '.join(map(str, self.path))}: {self.message}"


class UnitError(ValueError):
    """A unit sheet that cannot be used, or a question about a part that it does not have."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults


def sheet_faults(sheet: Sheet) -> Iterator[Fault]:
    """Everything wrong with a sheet, from its head to its foot."""
    yield from _heading_faults(sheet)
    numbers = tuple(_number_faults(sheet))
    yield from numbers or _drive_faults(sheet)
    for contact in sheet.development.contacts:
        yield from _contact_faults(sheet, contact)
    if len(sheet.rotors) not in ROTORS:
        yield Fault(("rotors",), f"a unit has two or four rotors, not {len(sheet.rotors)}")
    yield from _name_faults("rotors", [rotor.name for rotor in sheet.rotors])
    for rotor in sheet.rotors:
        yield from _rotor_faults(sheet, rotor)
        apart = tuple(_trip_faults(sheet, rotor))
        yield from apart
        # Where a rotor is drawn is weighed only if that is one place, and the numbers are sound.
        if not apart and not numbers:
            yield from _place_faults(sheet, rotor)
    yield from _bypass_faults(sheet)
    yield from _name_faults("lamps", [lamp.name for lamp in sheet.lamps])
    for lamp in sheet.lamps:
        yield from _lamp_faults(sheet, lamp)


def _heading_faults(sheet: Sheet) -> Iterator[Fault]:
    headings = {
        "tag": sheet.tag,
        "service": sheet.service,
        "drawing": sheet.drawing,
        "revision": sheet.revision,
    }
    for name, text in headings.items():
        if not text.strip():
            yield Fault((name,), f"the {name} is missing")


def _number_faults(sheet: Sheet) -> Iterator[Fault]:
    for name, number in sheet.numbers.items():
        # Comparisons alone also catch what is no number, infinite, or too large to reckon with.
        if not 0 < number.value <= LARGEST:
            yield Fault(("numbers", name), "must be greater than 0 and at most one million")
        if not number.unit.strip() or not number.origin.strip():
            yield Fault(("numbers", name), "say in which unit it is and where it comes from")
    for name, number in sheet.back_offs.items():
        if number.value >= sheet.stroke_turns.value:
            yield Fault(("numbers", name), "must be fewer turns than the full stroke")


def _contact_faults(sheet: Sheet, contact: int) -> Iterator[Fault]:
    path = ("contacts", contact)
    if contact not in NUMBERED:
        yield Fault(path, "contacts are numbered 1 to 16")
    yield from _interval_faults(path, sheet.development.closed[contact])
    edges = sheet.development.edges(contact)
    if len(edges) != 1:
        drawn = " and ".join(f"{edge:g} %" for edge in edges) or "nowhere"
        yield Fault(path, f"must change over once within the stroke; drawn: {drawn}")
    on = [rotor.name for rotor in sheet.rotors if contact in rotor.contacts]
    if len(on) != 1:
        named = " and ".join(on) or "none"
        yield Fault(path, f"must be on one rotor; it is on {named}")


def _interval_faults(path: tuple[str | int, ...], line: tuple[Interval, ...]) -> Iterator[Fault]:
    for low, high in line:
        if not FULL_SHUT <= low < high <= FULL_OPEN:
            yield Fault(path, f"{_span((low, high))}: must rise and lie within 0 to 100 %")
    for before, after in pairwise(line):
        if not before[1] < after[0]:
            spans = f"{_span(before)} and {_span(after)}"
            yield Fault(path, f"{spans}: must ascend and stand apart")


def _span(interval: Interval) -> str:
    return f"closed from {interval[0]} to {interval[1]} %"


def _name_faults(kind: str, names: list[str]) -> Iterator[Fault]:
    for name, count in Counter(names).items():
        if not name.strip():
            yield Fault((kind, name), "a name is missing")
        elif count > 1:
            yield Fault((kind, name), "the name is used more than once")


def _rotor_faults(sheet: Sheet, rotor: Rotor) -> Iterator[Fault]:
    path = ("rotors", rotor.name)
    if rotor.name and rotor.name not in ROTOR_NAMES:
        names = f"{', '.join(ROTOR_NAMES[:-1])} or {ROTOR_NAMES[-1]}"
        yield Fault(path, f"procedures call a rotor {names}: call it so")
    if len(rotor.contacts) not in CONTACTS_OF_A_ROTOR:
        yield Fault(path, f"a rotor has one to four contacts, not {len(rotor.contacts)}")
    for contact, count in Counter(rotor.contacts).items():
        if count > 1:
            yield Fault(path, f"contact {contact} is named more than once")
        if contact not in NUMBERED:
            yield Fault(path, f"contact {contact}: contacts are numbered 1 to 16")
        elif contact not in sheet.development.closed:
            yield Fault(path, f"contact {contact} has no line in the contact development")
    needed = rotor.place.set_while
    if needed is not None and rotor.set_while is not needed:
        yield Fault(path, f"at the {rotor.place} a rotor is set while {needed}")


def _trip_faults(sheet: Sheet, rotor: Rotor) -> Iterator[Fault]:
    edges = sheet.development.single_edges(rotor.contacts)
    spread = max(edges.values(), default=0.0) - min(edges.values(), default=0.0)
    if spread - _ROUNDING > sheet.tolerance.value:
        yield Fault(
            ("rotors", rotor.name),
            "its contacts change over together, yet they are drawn apart by more than "
            f"{sheet.tolerance.value} %: {_drawn(edges)}",
        )


def _place_faults(sheet: Sheet, rotor: Rotor) -> Iterator[Fault]:
    """Whether a rotor that is set by counted turns from its stop can be set where it is drawn."""
    edges = sheet.development.single_edges(rotor.contacts)
    if not edges:
        return
    path, drawn, stroke = ("rotors", rotor.name), fmean(edges.values()), sheet.stroke_turns.value
    tolerance = sheet.tolerance.value
    from_stop = FULL_OPEN - drawn if _is_counted_from_open(rotor, drawn) else drawn
    back_off = sheet.back_off_at(rotor.place)
    turns = to_turns(from_stop, stroke) if back_off is None else back_off.value
    exact, counted = to_percent(turns, stroke), to_percent(quarter_turns(turns), stroke)
    if abs(exact - from_stop) - _ROUNDING > tolerance:
        there = FULL_OPEN - exact if rotor.place is Place.OPEN_END else exact
        yield Fault(
            path,
            f"drawn at {drawn:g} %, but {turns:g} {'turn' if turns == 1 else 'turns'} from the "
            f"stop is {there:.3g} %: one of them is wrong",
        )
    elif abs(counted - from_stop) - _ROUNDING > tolerance:
        yield Fault(
            path,
            f"a quarter turn is {to_percent(0.25, stroke):.2g} % of this stroke: {drawn:g} % "
            f"cannot be counted to within {tolerance:g} %",
        )
    elif back_off is not None and tolerance + _ROUNDING >= from_stop:
        # A rotor that changes over at its stop, or never, would pass for one that is right.
        yield Fault(
            path,
            f"drawn {from_stop:.3g} % from its stop, and a tolerance of {tolerance:g} % reaches "
            "that stop, where no rotor may trip: state a smaller tolerance",
        )


def _is_counted_from_open(rotor: Rotor, drawn: float) -> bool:
    if rotor.place is Place.TRAVEL:
        return drawn > _HALF_TRAVEL
    return rotor.place is Place.OPEN_END


def _drive_faults(sheet: Sheet) -> Iterator[Fault]:
    if sheet.drive is not None and not 0 < sheet.drive.seconds <= LARGEST:
        yield Fault(("numbers",), "the drive data give no possible time of a stroke")


def _bypass_faults(sheet: Sheet) -> Iterator[Fault]:
    """A bypass of the torque switch is closed at the closed end, and only near it."""
    contact, line = sheet.bypass, sheet.development
    if contact is None:
        return
    path = ("bypass-contact",)
    if contact not in line.closed:
        yield Fault(path, f"contact {contact} has no line in the contact development")
    elif not any(contact in rotor.contacts for rotor in sheet.rotors):
        yield Fault(path, f"contact {contact} is on no rotor")
    elif not _is_closed_near_the_seat_only(line.closed[contact]):
        yield Fault(
            path,
            f"contact {contact} must be closed at the closed end and open from mid-travel on: it "
            "bypasses the torque switch only while the disk leaves its seat",
        )


def _is_closed_near_the_seat_only(line: tuple[Interval, ...]) -> bool:
    return any(low <= FULL_SHUT for low, _ in line) and all(high < _HALF_TRAVEL for _, high in line)


def _drawn(edges: dict[int, float]) -> str:
    places: dict[float, list[int]] = {}
    for contact, edge in edges.items():
        places.setdefault(edge, []).append(contact)
    return ", ".join(f"{name_contacts(there)} at {edge:g} %" for edge, there in places.items())


def _lamp_faults(sheet: Sheet, lamp: Lamp) -> Iterator[Fault]:
    path = ("lamps", lamp.name)
    if not lamp.colour.strip():
        yield Fault(path, "its colour is missing")
    if lamp.contact not in sheet.development.closed:
        yield Fault(path, f"contact {lamp.contact} has no line in the contact development")
