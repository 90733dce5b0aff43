"""The values that a procedure names: their kinds, their fields, and how each is said.

One table serves the loader, which checks every ``{name.field}`` before the job, and the session,
which looks the value up during it; so the two cannot disagree.
"""

from __future__ import annotations

import enum
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from assistant.language.meaning import (
    Choice,
    Command,
    ContactStates,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
)
from assistant.language.speaking import (
    say_contacts,
    say_number,
    say_reading,
    spell,
)
from assistant.trade.motion import Rotation, Travel
from assistant.trade.shaft import Advice
from assistant.trade.travel import back_off
from assistant.trade.unit import Rotor, Sourced, Unit

__all__ = ["FIELDS", "Kind", "RotorOfUnit", "Value", "field_of", "of_meaning", "say"]


class Kind(enum.StrEnum):
    """The kinds of values, by the names that a procedure uses."""

    UNIT = "unit"
    ROTOR = "rotor"
    CONTACTS = "contacts"
    READING = "reading"
    ROTATION = "rotation"
    TRAVEL = "travel"
    NUMBER = "number"
    TEXT = "text"
    LETTERS = "letters"
    ADVICE = "advice"


@dataclass(frozen=True, slots=True)
class Value:
    """A value of a kind."""

    kind: Kind
    content: Any


@dataclass(frozen=True, slots=True)
class RotorOfUnit:
    """A rotor, with the unit that it belongs to."""

    unit: Unit
    rotor: Rotor


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a kind: the kind of the field, and how it is read."""

    kind: Kind
    read: Callable[[Any], Any]


def _quantity(number: Sourced) -> Quantity:
    return Quantity(number.value, number.unit)


def _back_off(of: RotorOfUnit) -> Quantity:
    return _quantity(back_off(of.unit, of.rotor).turns)


def _end(travel: Travel) -> str:
    return "open" if travel is Travel.OPENING else "closed"


def _opposite(advice: Advice) -> Rotation | None:
    return advice.turn.opposite if advice.turn else None


FIELDS: Mapping[Kind, Mapping[str, Field]] = {
    Kind.UNIT: {
        "tag": Field(Kind.LETTERS, lambda unit: unit.tag),
        "spoken": Field(Kind.TEXT, lambda unit: unit.spoken or spell(unit.tag)),
        "service": Field(Kind.TEXT, lambda unit: unit.service),
        "drawing": Field(Kind.LETTERS, lambda unit: unit.drawing),
        "revision": Field(Kind.LETTERS, lambda unit: unit.revision),
        "seating": Field(Kind.TEXT, lambda unit: unit.seating.value),
        "stroke": Field(Kind.NUMBER, lambda unit: _quantity(unit.stroke_turns)),
    },
    Kind.ROTOR: {
        "name": Field(Kind.TEXT, lambda of: of.rotor.name),
        "contacts": Field(Kind.CONTACTS, lambda of: of.rotor.contacts),
        "trip": Field(Kind.NUMBER, lambda of: Quantity(of.unit.trip(of.rotor), "%")),
        "travel": Field(Kind.TRAVEL, lambda of: of.rotor.set_while),
        "stop": Field(Kind.TEXT, lambda of: f"{_end(of.rotor.set_while)} stop"),
        "back-off": Field(Kind.NUMBER, _back_off),
        "away": Field(Kind.TRAVEL, lambda of: of.rotor.set_while.opposite),
        "drawn": Field(
            Kind.READING, lambda of: ContactStates.of(of.unit.past(of.rotor, of.rotor.set_while))
        ),
    },
    Kind.ADVICE: {
        "turn": Field(Kind.ROTATION, lambda advice: advice.turn),
        "back": Field(Kind.ROTATION, _opposite),
        "leave": Field(Kind.READING, lambda advice: ContactStates.of(advice.leave)),
        "reason": Field(Kind.TEXT, lambda advice: " ".join(advice.reasons)),
    },
}
"""The fields of every kind that has any."""


def field_of(value: Value, name: str) -> Value:
    """The named field of a value; KeyError where its kind has none."""
    field = FIELDS[value.kind][name]
    return Value(field.kind, field.read(value.content))


def of_meaning(meaning: Meaning) -> Value:
    """The value that a confirmed reply gives."""
    match meaning:
        case ContactStates():
            return Value(Kind.READING, meaning)
        case ShaftTurn(rotation):
            return Value(Kind.ROTATION, rotation)
        case Quantity():
            return Value(Kind.NUMBER, meaning)
        case Choice(name):
            return Value(Kind.TEXT, name)
        case Spelling(text):
            return Value(Kind.LETTERS, text)
        case Command(word):
            return Value(Kind.TEXT, word.value)
    raise ValueError(f"{meaning!r} is no answer on its own")


def say(value: Value) -> str:
    """The value in spoken words."""
    content = value.content
    match value.kind:
        case Kind.UNIT:
            return spell(content.tag)
        case Kind.ROTOR:
            return str(content.rotor.name)
        case Kind.CONTACTS:
            return say_contacts(content)
        case Kind.READING:
            return say_reading(content.mapping())
        case Kind.TRAVEL:
            return f"toward {_end(content)}"
        case Kind.NUMBER:
            return say_number(content.value, content.unit)
        case Kind.LETTERS:
            return spell(content)
        case Kind.ADVICE:
            return " ".join(content.reasons)
        case Kind.ROTATION | Kind.TEXT:
            return str(content)
