"""The JSON Schema of a unit sheet."""

from __future__ import annotations

from assistant.procedure.schema.descriptions import arguments_of, summary_of
from assistant.procedure.schema.fragments import (
    DIALECT,
    TEXT,
    Schema,
    described,
    list_of,
    number,
    table,
    table_of,
    word,
)
from assistant.procedure.sheet_numbers import DRIVE, UNITS
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.motion import Travel
from assistant.trade.sheet import ROTOR_NAMES, Drive, Lamp, Place, Rotor, Seating, Sheet
from assistant.trade.sheet_faults import CONTACTS_OF_A_ROTOR, LARGEST, NUMBERED, ROTORS

__all__ = ["unit_schema"]

_BLANK_KEY: Schema = {"pattern": r"\S"}
_SPELLED: Schema = {**TEXT, "pattern": "[A-Za-z0-9]"}
"""The loader alone refuses letters beyond A to Z."""
_CONTACT_TEXT = "^([1-9]|1[0-6])$"
_CONTACT: Schema = {
    "type": ["integer", "string"],
    "minimum": min(NUMBERED),
    "maximum": max(NUMBERED),
    "pattern": _CONTACT_TEXT,
}


def unit_schema() -> Schema:
    """The schema of a unit sheet."""
    told = arguments_of(Sheet)
    percent = number(least=FULL_SHUT, most=FULL_OPEN)
    interval = list_of(percent, minItems=2, maxItems=2)
    return {
        "$schema": DIALECT,
        "title": "A unit sheet: the data of one valve",
        "description": summary_of(Sheet),
        **table(
            {
                "unit": described(_SPELLED, told["tag"]),
                "spoken": described(TEXT, told["spoken"]),
                "service": described(TEXT, told["service"]),
                "drawing": described(_SPELLED, told["drawing"]),
                "revision": described(_SPELLED, told["revision"]),
                "seating": described(word(Seating), told["seating"]),
                "numbers": _numbers(told),
                "rotors": _rotors(told["rotors"]),
                "contacts": described(
                    {
                        "type": "object",
                        # Each contact changes over once, so one interval is what it can have.
                        "patternProperties": {
                            _CONTACT_TEXT: list_of(interval, minItems=1, maxItems=1)
                        },
                        "additionalProperties": False,
                    },
                    told["development"],
                ),
                "bypass-contact": described(_CONTACT, told["bypass"]),
                "lamps": described(table_of(_lamp(), _BLANK_KEY), told["lamps"]),
            },
            required=[
                *("unit", "service", "drawing", "revision", "seating"),
                *("numbers", "rotors", "contacts"),
            ],
        ),
    }


def _numbers(told: dict[str, str]) -> Schema:
    words = {
        **told,
        "stroke_seconds": told["stated_seconds"],
        "stem_travel": arguments_of(Drive)["travel"],
        "motor_speed": arguments_of(Drive)["motor_rpm"],
        **{name: text for name, text in arguments_of(Drive).items() if name not in told},
    }
    drive = sorted(DRIVE)
    return {
        **table(
            {
                name: described(
                    table(
                        {
                            "value": described(number(above=0, most=LARGEST), f"In {unit}."),
                            "origin": described(TEXT, "Where the number comes from."),
                        },
                        required=["value", "origin"],
                    ),
                    words[name.replace("-", "_")],
                )
                for name, unit in UNITS.items()
            },
            required=["stroke-turns"],
        ),
        "description": "Every number with its origin.",
        "dependentRequired": {name: [n for n in drive if n != name] for name in drive},
    }


def _rotors(description: str) -> Schema:
    rotor = _rotor()
    return {
        "type": "object",
        "description": description,
        "properties": dict.fromkeys(ROTOR_NAMES, rotor),
        "additionalProperties": False,
        "anyOf": [{"minProperties": count, "maxProperties": count} for count in ROTORS],
    }


def _rotor() -> Schema:
    told = arguments_of(Rotor)
    most = max(CONTACTS_OF_A_ROTOR)
    return {
        **table(
            {
                "contacts": described(
                    list_of(_CONTACT, minItems=1, maxItems=most, uniqueItems=True),
                    told["contacts"],
                ),
                "set-at": described(word(Place), told["place"]),
                "set-while": described(word(Travel), told["set_while"]),
            },
            required=["contacts", "set-at", "set-while"],
        ),
        "description": summary_of(Rotor),
        "allOf": [
            {
                "if": {"properties": {"set-at": {"const": place.value}}},
                "then": {"properties": {"set-while": {"const": place.set_while.value}}},
            }
            for place in Place
            if place.set_while is not None
        ],
    }


def _lamp() -> Schema:
    return {
        **table({"colour": TEXT, "contact": _CONTACT}, required=["colour", "contact"]),
        "description": summary_of(Lamp),
    }
