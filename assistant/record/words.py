"""How the values of a journal are put into words for a reader."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from assistant.journal.canonical import encode

__all__ = [
    "Field",
    "States",
    "clean",
    "fields_of",
    "grouped",
    "in_words",
    "mapping_of",
    "number_of",
    "states_of",
    "texts_of",
]

States = dict[int, str]

_DECIMALS = 4
"""More of a measured number says nothing to a reader; the journal keeps it whole."""

_CONTACT = re.compile(r"[1-9]\d?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Field:
    """A named text."""

    name: str
    text: str


def in_words(value: Any) -> str:
    """A JSON value, or the JSON form of a meaning, as a reader wants it.

    >>> in_words({"contacts": {"1": "closed", "2": "closed", "3": "open"}})
    '1, 2 closed; 3 open'
    >>> in_words({"number": 1.5, "unit": "turns"})
    '1.5 turns'
    """
    match value:
        case str():
            return clean(value)
        case list():
            return ", ".join(in_words(item) for item in value)
        case Mapping():
            return _mapping_in_words(value)
        case bool() | None:
            return {True: "yes", False: "no", None: "not given"}[value]
        case float():
            return encode(round(value, _DECIMALS)).decode()
    return encode(value).decode()


def _mapping_in_words(value: Mapping[str, Any]) -> str:
    match value:
        case {"number": number, "unit": unit, **rest} if not rest:
            return f"{in_words(number)} {in_words(unit)}" if unit else in_words(number)
        case {"correction": answer, **rest} if not rest:
            return f"wrong: {in_words(answer)}"
        case {"called": name, "number": number, **rest} if not (rest.keys() - {"unit"}):
            return f"{in_words(name)}, {in_words({'number': number, 'unit': rest.get('unit')})}"
        case {"lit": list(names), **rest} if not rest:
            return f"lit: {in_words(names)}" if names else "no lamp lit"
        case {"role": role, "agrees": agrees, **rest} if not rest:
            return f"{in_words(role)}: {'correct' if agrees else 'wrong'}"
        case {"command": str(word), **rest} if not rest:
            return clean(word.replace("-", " "))
        case {"rotation": said, **rest} | {"choice": said, **rest} | {"spelling": said, **rest} if (
            not rest
        ):
            return in_words(said)
    return grouped(states_of(value)) or "; ".join(
        f"{clean(name)}: {in_words(item)}" for name, item in value.items()
    )


def clean(text: str) -> str:
    """One line; characters that show nothing, or turn the direction of text, made visible."""
    line = " ".join(text.split())
    if line.isprintable():
        return line
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in line)


def grouped(states: States) -> str:
    """'1, 2 closed; 3, 4 open', in the order of the lowest contact of each group."""
    groups: dict[str, list[str]] = {}
    for contact, state in sorted(states.items()):
        groups.setdefault(state, []).append(str(contact))
    return "; ".join(f"{', '.join(contacts)} {state}" for state, contacts in groups.items())


def states_of(value: Any) -> States:
    """The contact states that a value holds, as itself or under "contacts"; else nothing."""
    match value:
        case {"contacts": Mapping() as states, **rest} if not rest:
            return states_of(states)
        case Mapping() if all(map(_is_state, value, value.values())):
            return {int(contact): state for contact, state in value.items()}
    return {}


def _is_state(contact: str, state: Any) -> bool:
    return _CONTACT.fullmatch(contact) is not None and state in ("open", "closed")


def fields_of(value: Any, *first: str) -> tuple[Field, ...]:
    """The named texts of a mapping: those named `first` first, the others as they stand."""
    given = mapping_of(value)
    ordered = {name: given[name] for name in (*first, *given) if name in given}
    return tuple(Field(clean(name), in_words(item)) for name, item in ordered.items())


def mapping_of(value: Any) -> Mapping[str, Any]:
    """The value if it is a mapping, else an empty one."""
    return value if isinstance(value, Mapping) else {}


def number_of(value: Any) -> float | None:
    """The value if it is a number, else None; a truth value is none."""
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def texts_of(value: Any) -> tuple[str, ...]:
    """A list of texts, or one text; anything else in words."""
    if value is None:
        return ()
    return tuple(in_words(item) for item in (value if isinstance(value, list) else [value]))
