"""What the writer does on the rig with the own hands, in place of what a step asks for.

The words are those of ``does:``, with what the act is told after them: ``crank 3 opening``,
``turn-shaft open clockwise``. Two errors of the hand are there besides: ``engage half``, and a
shaft that is turned by so many turns and not up to its change-over.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from assistant.language.meaning import Quantity
from assistant.procedure.deeds import ActKind
from assistant.procedure.fields import nearest, quoted
from assistant.procedure.values import Kind, RotorOfUnit, Value
from assistant.rig.technician import Technician
from assistant.session.effects import Request
from assistant.trade.motion import Rotation, Travel
from assistant.trade.unit import Unit

__all__ = ["HANDLINGS", "Handling", "HandlingError", "read_handling"]


class HandlingError(ValueError):
    """What was typed is nothing that can be done on this rig; the remedy is named."""


@dataclass(frozen=True, slots=True)
class Handling:
    """Something done on the rig.

    Args:
        words: as it was typed.
        do: does it.
    """

    words: str
    do: Callable[[Technician], None]


HANDLINGS: Mapping[str, str] = {
    "crank": "TURNS opening|closing",
    "crank-to-stop": "opening|closing",
    "crank-slowly": "opening|closing CONTACT…",
    "crank-to-middle": "",
    "disengage": "",
    "engage": "[half]",
    "turn-shaft": "ROTOR clockwise|counterclockwise [TURNS]",
    "jog": "opening|closing",
    "stroke": "opening|closing",
}
"""What can be done, and what has to be told of it."""


def read_handling(words: Sequence[str], unit: Unit | None) -> Handling:
    """Read what is to be done.

    Args:
        words: the act and what it is told.
        unit: the unit whose rig it is; None where there is no rig.

    Raises:
        HandlingError: it is nothing that can be done on this rig.
    """
    act, *told = words
    if act not in HANDLINGS:
        raise HandlingError(f"no act is called {quoted(act)}; {nearest(act, HANDLINGS)}")
    if unit is None:
        raise HandlingError("this procedure is on no unit: there is no rig to work on")
    return Handling(" ".join(words), _reading(act, told, unit))


def _reading(act: str, told: Sequence[str], unit: Unit) -> Callable[[Technician], None]:
    match act, told:
        case "engage", ["half"]:
            return lambda technician: technician.engage_half()
        case "turn-shaft", [rotor, way, turns]:
            name, rotation, count = _rotor(rotor, unit), _rotation(way), _turns(turns)
            return lambda technician: _turn_by(technician, name, rotation, count)
    request = Request(ActKind(act), _arguments(act, told, unit))
    return lambda technician: technician.work_otherwise(request)


def _turn_by(technician: Technician, rotor: str, way: Rotation, turns: float) -> None:
    technician.turn_by(rotor, way, turns)


def _arguments(act: str, told: Sequence[str], unit: Unit) -> Mapping[str, Value]:
    match act, told:
        case "crank", [turns, toward]:
            return {"turns": _quantity(_turns(turns)), "toward": _toward(toward)}
        case "crank-slowly", [toward, *contacts] if contacts:
            watched = Value(Kind.CONTACTS, tuple(_contact(number, unit) for number in contacts))
            most = _quantity(unit.stroke_turns.value)
            return {"toward": _toward(toward), "contacts": watched, "most": most}
        case "turn-shaft", [rotor, way]:
            of = RotorOfUnit(unit, unit.rotor(_rotor(rotor, unit)))
            rotation = Value(Kind.ROTATION, _rotation(way))
            return {"rotor": Value(Kind.ROTOR, of), "way": rotation}
        case "crank-to-stop" | "jog" | "stroke", [toward]:
            return {"toward": _toward(toward)}
        case "crank-to-middle" | "disengage" | "engage", []:
            return {}
    raise HandlingError(f"write it '{f'/{act} {HANDLINGS[act]}'.rstrip()}'")


def _quantity(turns: float) -> Value:
    return Value(Kind.NUMBER, Quantity(turns, "turns"))


def _toward(word: str) -> Value:
    ways = {"opening": Travel.OPENING, "open": Travel.OPENING}
    ways |= {"closing": Travel.CLOSING, "closed": Travel.CLOSING}
    if word not in ways:
        raise HandlingError(f"{quoted(word)} is no direction of travel: opening or closing")
    return Value(Kind.TRAVEL, ways[word])


def _rotation(word: str) -> Rotation:
    if word not in set(Rotation):
        raise HandlingError(f"{quoted(word)} is no rotation: clockwise or counterclockwise")
    return Rotation(word)


def _rotor(name: str, unit: Unit) -> str:
    names = [rotor.name for rotor in unit.rotors]
    if name not in names:
        raise HandlingError(f"{unit.tag} has no rotor {quoted(name)}; {nearest(name, names)}")
    return name


def _turns(text: str) -> float:
    try:
        turns = float(text)
    except ValueError:
        turns = math.nan
    if not 0 <= turns <= 10_000:
        raise HandlingError(f"{quoted(text)} is no number of turns: write one like 3 or 1.5")
    return turns


def _contact(text: str, unit: Unit) -> int:
    if not text.isdecimal() or int(text) not in unit.development.contacts:
        raise HandlingError(f"{unit.tag} has no contact {quoted(text)}")
    return int(text)
