"""Read a unit sheet: the data of one valve, as its drawing states them."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from assistant.language.spelling import has_foreign_letters, letters_and_digits
from assistant.procedure.fields import (
    Fields,
    as_items,
    as_number,
    as_scalar,
    as_text,
    nearest,
    quoted,
    read_each,
)
from assistant.procedure.located import Located, ScalarNode, SequenceNode, read_yaml
from assistant.procedure.problems import FileRefused, Place, Problem, refuse
from assistant.procedure.sheet_numbers import DEFAULTS, read_drive, read_numbers
from assistant.procedure.spoken_tag import as_spoken_tag
from assistant.procedure.text_file import read_text
from assistant.trade.development import Development, Interval
from assistant.trade.motion import Travel
from assistant.trade.unit import Fault, Lamp, Rotor, Seating, Unit, UnitError
from assistant.trade.unit import Place as RotorPlace

__all__ = [
    "LocatedUnit",
    "as_contact",
    "as_option",
    "as_spelled",
    "load_located_unit",
    "load_unit",
    "read_located_unit",
    "read_unit",
]

Choice = TypeVar("Choice", bound=enum.StrEnum)
Entry = tuple[ScalarNode, Located]
FaultPath = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class LocatedUnit:
    """A unit, and where in its sheet everything stands.

    Args:
        unit: the unit.
        places: of each field of the sheet, ``("seating",)``, and of each entry of its tables,
            ``("contacts", 5)`` or ``("numbers", "stroke-turns")``.
    """

    unit: Unit
    places: Mapping[FaultPath, Place]

    def place(self, *path: str | int) -> Place:
        """Where something stands; the nearest place above it where the sheet does not state it."""
        return _nearest_place(path, self.places)


def load_unit(path: Path) -> Unit:
    """Load and check a unit sheet; raises FileRefused with the problems found."""
    return load_located_unit(path).unit


def load_located_unit(path: Path) -> LocatedUnit:
    """The same with the places of what it states."""
    return read_located_unit(read_text(path), str(path))


def read_unit(text: str, file: str) -> Unit:
    """Read a unit sheet; its arguments and errors are those of `read_located_unit`."""
    return read_located_unit(text, file).unit


def read_located_unit(text: str, file: str) -> LocatedUnit:
    """Read a unit sheet with the places of what it states.

    Args:
        text: the file's text.
        file: its name, for messages.

    Raises:
        FileRefused: with the problems found, each with its place; those of the drawing itself
            once everything is written as it should be.
    """
    fields = Fields(read_yaml(text, file), "a unit sheet")
    tag, drawing, revision = (
        as_spelled(fields.need(name), f"'{name}'") for name in ("unit", "drawing", "revision")
    )
    service = fields.prose("service")
    seating = as_option(Seating, fields.need("seating"), "'seating'")
    numbers = _entries(fields, "numbers")
    rotors, contacts = _entries(fields, "rotors"), _entries(fields, "contacts")
    lamps = fields.table("lamps")
    spoken, bypass = fields.take("spoken"), fields.take("bypass-contact")
    fields.finish()
    stated = read_numbers(fields.need("numbers"))
    known = {**DEFAULTS, **stated}
    tables = {"numbers": numbers, "rotors": rotors, "contacts": contacts, "lamps": lamps}
    try:
        unit = Unit(
            tag=tag,
            service=service,
            drawing=drawing,
            revision=revision,
            seating=seating,
            rotors=read_each(rotors, _rotor),
            development=Development(dict(read_each(contacts, _line))),
            lamps=read_each(lamps, _lamp),
            stroke_turns=known["stroke-turns"],
            back_off_open=known["back-off-open"],
            back_off_torque=known["back-off-torque"],
            back_off_position=known["back-off-position"],
            cycle_revolutions=known.get("cycle-revolutions"),
            tolerance=known["tolerance"],
            spoken=None if spoken is None else as_spoken_tag(spoken, tag, "'spoken'"),
            bypass=None if bypass is None else as_contact(as_scalar(bypass, "'bypass-contact'")),
            stated_seconds=known.get("stroke-seconds"),
            drive=read_drive(stated, fields.need("numbers").place),
            stroke_time_tolerance=known["stroke-time-tolerance"],
        )
    except UnitError as error:
        places = _places(fields, tables)
        raise FileRefused(_problem(fault, places) for fault in error.faults) from error
    return LocatedUnit(unit, MappingProxyType(_places(fields, tables)))


def _entries(fields: Fields, name: str) -> tuple[Entry, ...]:
    """The entries of a mapping that must be there."""
    fields.need(name)
    return fields.table(name)


def _places(fields: Fields, tables: Mapping[str, tuple[Entry, ...]]) -> dict[FaultPath, Place]:
    """Where everything stands that a fault can name."""
    places: dict[FaultPath, Place] = {(): fields.place}
    places |= {(name,): fields.place_of(name) for name in fields.names()}
    for table, entries in tables.items():
        for key, _ in entries:
            name = int(key.text) if table == "contacts" else key.text
            places[(table, name)] = key.place
    return places


def _problem(fault: Fault, places: Mapping[FaultPath, Place]) -> Problem:
    """A fault at the nearest place that the sheet has for it."""
    path = fault.path
    if path[0] == "numbers":
        path = tuple(str(word).replace("_", "-") for word in path)
    name = " ".join(map(str, path))
    return Problem(_nearest_place(path, places), f"{name}: {fault.message}", "unit")


def _nearest_place(path: FaultPath, places: Mapping[FaultPath, Place]) -> Place:
    while path not in places:
        path = path[:-1]
    return places[path]


def as_spelled(value: Located, what: str) -> str:
    """A text that the technician spells: letters and digits are compared."""
    text = as_text(value, what)
    if has_foreign_letters(text) or not letters_and_digits(text):
        refuse(
            value.place,
            f"{what} is spelled aloud: write it in letters from A to Z and digits",
            "type",
        )
    return text


def as_option(options: type[Choice], value: Located, what: str) -> Choice:
    """One of a few words."""
    text = as_text(value, what)
    names = [option.value for option in options]
    if text not in names:
        refuse(value.place, f"{what} is not {quoted(text)}; {nearest(text, names)}", "type")
    return options(text)


def as_contact(scalar: ScalarNode) -> int:
    """The number of a contact."""
    text = scalar.text
    if not (text.isascii() and text.isdigit() and len(text) <= 2 and text == str(int(text))):
        refuse(scalar.place, f"a contact is a number from 1 to 16, not {quoted(text)}", "type")
    return int(text)


def _rotor(entry: Entry) -> Rotor:
    name = entry[0].text
    fields = Fields(entry[1], f"rotor {quoted(name)}")
    contacts = as_items(fields.need("contacts"), "'contacts'")
    rotor = Rotor(
        name=name,
        contacts=read_each(contacts, lambda item: as_contact(as_scalar(item, "a contact"))),
        place=as_option(RotorPlace, fields.need("set-at"), "'set-at'"),
        set_while=as_option(Travel, fields.need("set-while"), "'set-while'"),
    )
    fields.finish()
    return rotor


def _line(entry: Entry) -> tuple[int, tuple[Interval, ...]]:
    """A contact, and where in travel it is closed."""
    key, value = entry
    intervals = as_items(value, f"the closed intervals of contact {quoted(key.text)}")
    return as_contact(key), read_each(intervals, _interval)


def _interval(value: Located) -> Interval:
    if not isinstance(value, SequenceNode) or len(value.items) != 2:
        refuse(value.place, "an interval is written [from, to] in percent of travel", "type")
    low, high = (as_number(item, "a travel in percent") for item in value.items)
    return low, high


def _lamp(entry: Entry) -> Lamp:
    name = entry[0].text
    fields = Fields(entry[1], f"lamp {quoted(name)}")
    contact = as_scalar(fields.need("contact"), "'contact'")
    lamp = Lamp(name=name, colour=fields.text("colour"), contact=as_contact(contact))
    fields.finish()
    return lamp
