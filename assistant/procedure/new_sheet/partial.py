"""A sheet of what is known so far, and what is wrong with it at one answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.new_sheet.questions import END_ROTORS, Key, Values
from assistant.procedure.sheet_numbers import DEFAULTS, DRIVE, UNITS
from assistant.trade.development import Development, Interval
from assistant.trade.sheet import ROTOR_NAMES, Drive, Lamp, Rotor, Seating, Sheet, Sourced
from assistant.trade.sheet_faults import Fault, sheet_faults

__all__ = ["faults_at", "rotors_of"]

_NOT_YET = "-"
"""A text that is still to come."""


def faults_at(key: Key, values: Values) -> Iterator[str]:
    """What is wrong with the sheet so far and has to do with one answer.

    Args:
        key: of the answer.
        values: all answers up to it, itself included.
    """
    yield from _taken(key, values)
    paths = set(_paths(key, values))
    for fault in sheet_faults(_sheet(values)):
        if fault.path in paths:
            yield _in_words(fault)


def _in_words(fault: Fault) -> str:
    """A fault as it is told to who has just typed the answer."""
    return fault.message if fault.path[0] == "numbers" else str(fault)


def _paths(key: Key, values: Values) -> Iterator[tuple[str | int, ...]]:
    """The places of a sheet that an answer can spoil."""
    match key:
        case ("numbers", name, _):
            yield ("numbers", name.replace("-", "_"))
            yield ("numbers",)
        case ("contacts", number):
            yield ("contacts", int(number))
            for rotor in rotors_of(values):
                if int(number) in rotor.contacts:
                    yield ("rotors", rotor.name)
        case ("lamps", index, _):
            yield ("lamps", values[("lamps", index, "name")])
        case ("bypass-contact",):
            yield key


def _taken(key: Key, values: Values) -> Iterator[str]:
    """Contacts of a rotor that cannot be its own; their lines are still to come."""
    match key:
        case ("rotors", name, "contacts"):
            own = values[key]
            if not 1 <= len(own) <= 4 or len(set(own)) < len(own):
                yield "a rotor has one to four contacts, each once"
            for rotor in ROTOR_NAMES[: ROTOR_NAMES.index(name)]:
                both = set(own) & set(values[("rotors", rotor, "contacts")])
                if both:
                    yield f"contact {min(both)} is on rotor '{rotor}' already"
            if not all(1 <= number <= 16 for number in own):
                yield "contacts are numbered 1 to 16"


def rotors_of(values: Values) -> Iterator[Rotor]:
    """The rotors of which everything was told."""
    for name in ROTOR_NAMES:
        contacts = values.get(("rotors", name, "contacts"))
        place = END_ROTORS.get(name) or values.get(("rotors", name, "set-at"))
        if contacts is None or place is None:
            continue
        set_while = place.set_while or values.get(("rotors", name, "set-while"))
        if set_while is not None:
            yield Rotor(name, contacts, place, set_while)


def _sheet(values: Values) -> Sheet:
    """What is known, with what is usual, or harmless, for what is not."""
    lines = {int(key[1]): (value,) for key, value in values.items() if key[0] == "contacts"}
    known = {**DEFAULTS, **dict(_numbers(values))}
    return Sheet(
        tag=_NOT_YET,
        service=_NOT_YET,
        drawing=_NOT_YET,
        revision=_NOT_YET,
        seating=values.get(("seating",), Seating.TORQUE),
        rotors=tuple(_with_lines(rotor, lines) for rotor in rotors_of(values)),
        development=Development(lines),
        lamps=tuple(_lamps(values)),
        stroke_turns=known.get("stroke-turns", Sourced(1e6, "turns", _NOT_YET)),
        back_off_open=known["back-off-open"],
        back_off_torque=known["back-off-torque"],
        back_off_position=known["back-off-position"],
        cycle_revolutions=known.get("cycle-revolutions"),
        tolerance=known["tolerance"],
        bypass=values.get(("bypass-contact",)),
        stated_seconds=known.get("stroke-seconds"),
        drive=Drive(*(known[name] for name in DRIVE)) if set(DRIVE) <= set(known) else None,
        stroke_time_tolerance=known["stroke-time-tolerance"],
    )


def _numbers(values: Values) -> Iterator[tuple[str, Sourced]]:
    for name, unit in UNITS.items():
        value = values.get(("numbers", name, "value"))
        if value is not None:
            origin = values.get(("numbers", name, "origin"), _NOT_YET)
            yield name, Sourced(value, unit, origin)


def _with_lines(rotor: Rotor, lines: Mapping[int, tuple[Interval, ...]]) -> Rotor:
    """The rotor with those of its contacts that have a line by now."""
    known = tuple(number for number in rotor.contacts if number in lines)
    return Rotor(rotor.name, known, rotor.place, rotor.set_while)


def _lamps(values: Values) -> Iterator[Lamp]:
    for key, name in values.items():
        if key[0] == "lamps" and key[2] == "name" and name is not None:
            colour = values.get(("lamps", key[1], "colour"), _NOT_YET)
            some = next(int(other[1]) for other in values if other[0] == "contacts")
            yield Lamp(name, colour, values.get(("lamps", key[1], "contact"), some))
