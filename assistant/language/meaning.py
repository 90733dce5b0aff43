"""What a spoken reply means, independent of the words that said it.

Each meaning is a small frozen value. `to_json` and `from_json` give the form that stands in the
journal and in the output of ``gloveside hear``.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

__all__ = [
    "Agreement",
    "Called",
    "Choice",
    "Command",
    "ContactStates",
    "Correction",
    "Lit",
    "Meaning",
    "Quantity",
    "ShaftTurn",
    "Spelling",
    "Word",
    "from_json",
    "to_json",
]


class Word(enum.StrEnum):
    """The fixed words: answers first, then the global commands."""

    DONE = "done"
    YES = "yes"
    NO = "no"
    MARK = "mark"
    SAY_AGAIN = "say-again"
    SLOWER = "slower"
    FASTER = "faster"
    LOUDER = "louder"
    SOFTER = "softer"
    HELP = "help"
    HOLD = "hold"
    CARRY_ON = "carry-on"
    GO_BACK = "go-back"
    SKIP = "skip"
    WHERE_AM_I = "where-am-i"
    REPEAT_CONTACTS = "repeat-contacts"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Command:
    """One of the fixed words."""

    word: Word


@dataclass(frozen=True, slots=True)
class ContactStates:
    """States of one or more contacts, in ascending order of contact number."""

    states: tuple[tuple[int, ContactState], ...]

    def __post_init__(self) -> None:
        numbers = [number for number, _ in self.states]
        if not numbers or numbers != sorted(set(numbers)):
            raise ValueError(f"contacts must be given once each, ascending: {numbers}")

    @classmethod
    def of(cls, states: Mapping[int, ContactState]) -> ContactStates:
        """Build from a mapping of contact number to state."""
        return cls(tuple(sorted(states.items())))

    def mapping(self) -> dict[int, ContactState]:
        """The states as a mapping of contact number to state."""
        return dict(self.states)


@dataclass(frozen=True, slots=True)
class ShaftTurn:
    """The sense in which a shaft was seen to turn."""

    rotation: Rotation


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with the unit that was spoken, or None where none was."""

    value: float
    unit: str | None


@dataclass(frozen=True, slots=True)
class Called:
    """A number with the word that came before it: "mark, four and a half turns"."""

    name: str
    number: Quantity


@dataclass(frozen=True, slots=True)
class Lit:
    """The lamps that are lit, by name, in the order of the question; the others are dark."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Agreement:
    """The verdict of a second person, who said the own role word first."""

    role: str
    agrees: bool


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the choices that a step offers, by its name in the procedure."""

    name: str


@dataclass(frozen=True, slots=True)
class Spelling:
    """Capital letters and digits spelled one by one, for example ``KF07``."""

    text: str


@dataclass(frozen=True, slots=True)
class Correction:
    """'Wrong', with the right answer in the same breath."""

    answer: Meaning


Meaning = (
    Command
    | ContactStates
    | ShaftTurn
    | Quantity
    | Called
    | Lit
    | Agreement
    | Choice
    | Spelling
    | Correction
)


def to_json(meaning: Meaning) -> dict[str, Any]:
    """Give the JSON form of a meaning.

    >>> to_json(ContactStates.of({2: ContactState.OPEN, 1: ContactState.CLOSED}))
    {'contacts': {'1': 'closed', '2': 'open'}}
    """
    match meaning:
        case Command(word):
            return {"command": word.value}
        case ContactStates(states):
            return {"contacts": {str(number): state.value for number, state in states}}
        case ShaftTurn(rotation):
            return {"rotation": rotation.value}
        case Quantity() | Called():
            return _number_to_json(meaning)
        case Lit(names):
            return {"lit": list(names)}
        case Agreement(role, agrees):
            return {"role": role, "agrees": agrees}
        case Choice(name):
            return {"choice": name}
        case Spelling(text):
            return {"spelling": text}
        case Correction(answer):
            return {"correction": to_json(answer)}


def _number_to_json(meaning: Quantity | Called) -> dict[str, Any]:
    match meaning:
        case Quantity(value, unit):
            return {"number": value, "unit": unit}
        case Called(name, number):
            return {"called": name, **_number_to_json(number)}


def from_json(data: Mapping[str, Any]) -> Meaning:
    """Rebuild a meaning from its JSON form; raises ValueError where it is none."""
    match data:
        case {"command": str(word)}:
            return Command(Word(word))
        case {"contacts": dict(states)}:
            return ContactStates.of({int(n): ContactState(s) for n, s in states.items()})
        case {"rotation": str(rotation)}:
            return ShaftTurn(Rotation(rotation))
        case {"number": int() | float() as value, "unit": str() | None as unit}:
            return _number_from_json(Quantity(float(value), unit), data)
        case {"lit": list(names)} if all(isinstance(name, str) for name in names):
            return Lit(tuple(names))
        case {"role": str(role), "agrees": bool(agrees)}:
            return Agreement(role, agrees)
        case {"choice": str(name)}:
            return Choice(name)
        case {"spelling": str(text)}:
            return Spelling(text)
        case {"correction": dict(answer)}:
            return Correction(from_json(answer))
    raise ValueError(f"not the JSON form of a meaning: {data!r}")


def _number_from_json(number: Quantity, data: Mapping[str, Any]) -> Quantity | Called:
    match data.get("called"):
        case None:
            return number
        case str(name):
            return Called(name, number)
    raise ValueError(f"not the JSON form of a number with a word before it: {data!r}")
