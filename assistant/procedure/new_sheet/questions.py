"""What is asked for a unit sheet, in an order in which each answer can be checked at once.

Numbers come before the rotors and rotors before their contacts: where a contact may change over
depends on the stroke, the back-off and the tolerance.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from assistant.procedure.fields import as_number, as_scalar, as_text
from assistant.procedure.located import Located, ScalarNode
from assistant.procedure.problems import refuse
from assistant.procedure.sheet_numbers import DEFAULTS, DRIVE
from assistant.procedure.spoken_tag import as_spoken_tag
from assistant.procedure.unit_sheet import (
    as_contact,
    as_option,
    as_spelled,
)
from assistant.trade.motion import Travel
from assistant.trade.sheet import ROTOR_NAMES, Place, Seating

__all__ = ["END_ROTORS", "Key", "Question", "Values", "questions"]

Key = tuple[str, ...]
"""What an answer is for: ``("numbers", "stroke-turns", "value")``."""

Values = Mapping[Key, Any]
"""The answers so far, read; None for what was left out."""

END_ROTORS: Mapping[str, Place] = {"open": Place.OPEN_END, "closed": Place.CLOSED_END}
"""Where the first two are set (common practice, no source)."""

_USUAL_CONTACTS = {"open": "1 2 3 4", "closed": "5 6 7 8", "third": "9 10 11 12"} | {
    "fourth": "13 14 15 16"
}
"""Common practice, no source."""


_TWO_NUMBERS = re.compile(r"\[*([0-9.]+)\s*%?(?:\s*(?:to|,|-)\s*|\s+)([0-9.]+)\s*%?\]*")


@dataclass(frozen=True, slots=True)
class Question:
    """A question for one thing in a unit sheet.

    Args:
        key: what it is for.
        words: the question, in the words of the trade.
        read: reads what was typed; it raises FileRefused, in the writer's words, where it is wrong.
        usual: what an empty answer stands for; None where it stands for nothing.
        usual_from: where that comes from.
        may_be_empty: whether the sheet can do without.
    """

    key: Key
    words: str
    read: Callable[[Located], Any]
    usual: str | None = None
    usual_from: str = ""
    may_be_empty: bool = False


def questions(values: Values) -> Iterator[Question]:
    """Every question, as far as it follows from the answers before it.

    Take no further than the first without an answer: what comes after it depends on it.
    """
    yield from _heading(values)
    yield from _numbers(values)
    yield from _rotors(values)
    yield from _contacts(values)
    yield from _bypass(values)
    yield from _lamps(values)


def _heading(values: Values) -> Iterator[Question]:
    yield Question(("unit",), "Tag of the valve, as on its plate, for example KF-15", _spelled)
    yield Question(
        ("spoken",),
        "How is the tag spoken, for example 'kilo foxtrot one five' (empty: letter by letter)",
        lambda value: as_spoken_tag(value, values[("unit",)], "the answer"),
        may_be_empty=True,
    )
    yield Question(("service",), "What does the valve do, in a few words", _text)
    yield Question(("drawing",), "Number of the drawing with the contact development", _spelled)
    yield Question(("revision",), "Revision of that drawing", _spelled)
    yield Question(
        ("seating",),
        "What stops it at its closed end: torque or position (torque: a jumper takes contact 8 out "
        "of the closing circuit)",
        lambda value: as_option(Seating, value, "the seating"),
    )


def _numbers(values: Values) -> Iterator[Question]:
    yield from _number(values, "stroke-turns", "Handwheel turns of the full stroke")
    yield from _number(values, "back-off-open", "Turns back from the open stop to the trip")
    seating = values[("seating",)]
    yield from _number(
        values,
        f"back-off-{seating}",
        f"Turns back from the closed stop to the trip, of a valve that seats on {seating}",
    )
    yield from _number(values, "tolerance", "How far off a trip may be, in percent of travel")
    yield from _number(
        values, "cycle-revolutions", "Shaft turns between two change-overs", may_be_empty=True
    )
    yield from _stroke_time(values)


def _stroke_time(values: Values) -> Iterator[Question]:
    known = "stroke-seconds"
    yield from _number(values, known, "Seconds of a full electrical stroke", may_be_empty=True)
    if values[("numbers", known, "value")] is None:
        drive = {
            "stem-travel": "Or travel of the stem in mm, from which the time can be computed",
            "gear-ratio": "Motor turns for one of the stem nut",
            "motor-speed": "Motor turns a minute",
            "stem-lead": "Travel of the stem in mm for one turn of its nut",
        }
        known = next(iter(DRIVE))
        for name in DRIVE:
            yield from _number(values, name, drive[name], may_be_empty=name == known)
            if values[("numbers", known, "value")] is None:
                return
    yield from _number(
        values, "stroke-time-tolerance", "How far off a stroke time may be, in percent"
    )


def _number(
    values: Values, name: str, words: str, *, may_be_empty: bool = False
) -> Iterator[Question]:
    """A number, and where it comes from unless the usual one was taken."""
    usual = DEFAULTS.get(name)
    key = ("numbers", name, "value")
    yield Question(
        key,
        f"{words}{' (empty: not known)' if may_be_empty else ''}",
        lambda value: as_number(value, "the answer"),
        usual=None if usual is None else f"{usual.value:g}",
        usual_from="" if usual is None else usual.origin,
        may_be_empty=may_be_empty,
    )
    if values[key] is None:
        return
    is_usual = usual is not None and values[key] == usual.value
    yield Question(
        ("numbers", name, "origin"),
        "Where does that number come from (drawing, counted at commissioning, site procedure, …)",
        _text,
        usual=usual.origin if usual is not None and is_usual else None,
    )


def _rotors(values: Values) -> Iterator[Question]:
    yield Question(("rotor-count",), "How many rotors: two or four", _rotor_count)
    for name in ROTOR_NAMES[: values[("rotor-count",)]]:
        yield Question(
            ("rotors", name, "contacts"),
            f"Contacts on rotor '{name}', one to four",
            _contact_numbers,
            usual=_USUAL_CONTACTS[name],
            usual_from="common practice",
        )
        if name not in END_ROTORS:
            yield from _place(values, name)


def _place(values: Values, name: str) -> Iterator[Question]:
    key = ("rotors", name, "set-at")
    yield Question(
        key,
        f"Where is rotor '{name}' set: open end, closed end or travel",
        lambda value: as_option(Place, value, "the place"),
        usual=Place.TRAVEL.value,
        usual_from="common practice",
    )
    if values[key] is Place.TRAVEL:
        yield Question(
            ("rotors", name, "set-while"),
            f"Is rotor '{name}' meant to change over while opening or closing",
            lambda value: as_option(Travel, value, "the direction"),
        )


def _contacts(values: Values) -> Iterator[Question]:
    for name in ROTOR_NAMES[: values[("rotor-count",)]]:
        for number in values[("rotors", name, "contacts")]:
            yield Question(
                ("contacts", str(number)),
                f"Rotor '{name}', contact {number}: closed from where to where in percent of "
                "travel, for example 0 98.4",
                _interval,
            )


def _bypass(values: Values) -> Iterator[Question]:
    yield Question(
        ("bypass-contact",),
        "Contact that bypasses the torque switch while the disk leaves its seat (empty: none)",
        lambda value: as_contact(as_scalar(value, "the contact")),
        may_be_empty=True,
    )


def _lamps(values: Values) -> Iterator[Question]:
    index = 0
    while True:
        index += 1
        key = ("lamps", str(index), "name")
        word = "next" if index > 1 else "first"
        yield Question(
            key, f"Name of the {word} position lamp (empty: no more)", _text, may_be_empty=True
        )
        if values[key] is None:
            return
        yield Question(("lamps", str(index), "colour"), f"Colour of '{values[key]}'", _text)
        yield Question(
            ("lamps", str(index), "contact"),
            f"Contact that lights '{values[key]}' while it is closed",
            lambda value: as_contact(as_scalar(value, "the contact")),
        )


def _text(value: Located) -> str:
    return as_text(value, "the answer")


def _spelled(value: Located) -> str:
    return as_spelled(value, "the answer")


def _rotor_count(value: Located) -> int:
    counts = {"2": 2, "two": 2, "4": 4, "four": 4}
    text = _text(value)
    if text not in counts:
        refuse(value.place, "a unit has two or four rotors: type 2 or 4", "type")
    return counts[text]


def _contact_numbers(value: Located) -> tuple[int, ...]:
    words = _text(value).replace(",", " ").split()
    numbers = tuple(as_contact(ScalarNode(value.place, word, word)) for word in words)
    if not numbers:
        refuse(value.place, "name the contacts, for example 1 2 3 4", "type")
    return numbers


def _interval(value: Located) -> tuple[float, float]:
    """Two numbers with anything usual between them: '0 98.4', '0-98.4', '0 to 98.4 %'."""
    found = _TWO_NUMBERS.fullmatch(_text(value))
    if found is None:
        refuse(value.place, "type two numbers in percent of travel, for example 98.4 100", "type")
    low, high = (
        as_number(ScalarNode(value.place, word, word), "a travel") for word in found.groups()
    )
    return low, high
