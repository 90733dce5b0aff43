"""Put the answers down as a unit sheet, with comments for who reads it next."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

from assistant.procedure.new_sheet.partial import rotors_of
from assistant.procedure.new_sheet.questions import Values
from assistant.procedure.sheet_numbers import UNITS

__all__ = ["sheet_text"]

_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9]*([ /()-]+[A-Za-z0-9]+)*")
_WORDS_OF_YAML = frozenset({"yes", "no", "on", "off", "y", "n", "true", "false", "null"})
"""Words that older or newer YAML takes for something else than text."""


def sheet_text(values: Values, schema: str) -> str:
    """The text of the sheet.

    Args:
        values: every answer of an interview that is at its end.
        schema: path to the JSON Schema of unit sheets, as seen from the sheet's folder.
    """
    return "\n".join(_lines(values, schema)) + "\n"


def _lines(values: Values, schema: str) -> Iterator[str]:
    yield f"# yaml-language-server: $schema={schema}"
    yield "# Every number says where it comes from; the site's own procedure overrides them all."
    yield f"unit: {_scalar(values[('unit',)])}"
    for name in ("spoken", "service", "drawing", "revision", "seating"):
        if values[(name,)] is not None:
            yield f"{name}: {_scalar(values[(name,)])}"
    yield ""
    yield "# Turns are those of the handwheel, tolerances are in percent."
    yield "numbers:"
    yield from _numbers(values)
    yield ""
    yield "# Which contacts each rotor moves, where it is set, and in which direction of travel."
    yield "rotors:"
    for rotor in rotors_of(values):
        contacts = ", ".join(map(str, rotor.contacts))
        yield (
            f"  {rotor.name}: {{contacts: [{contacts}], set-at: {rotor.place}, "
            f"set-while: {rotor.set_while}}}"
        )
    yield ""
    yield "# Where in travel each contact is closed: 0 is the closed seat, 100 is full open."
    yield "contacts:"
    lines = {int(key[1]): value for key, value in values.items() if key[0] == "contacts"}
    for number, (low, high) in sorted(lines.items()):
        yield f"  {number}: [[{_figures(low)}, {_figures(high)}]]"
    yield from _bypass(values)
    yield from _lamps(values)


def _numbers(values: Values) -> Iterator[str]:
    for name in UNITS:
        value = values.get(("numbers", name, "value"))
        if value is not None:
            origin = _scalar(values[("numbers", name, "origin")])
            yield f"  {name}: {{value: {_figures(value)}, origin: {origin}}}"


def _bypass(values: Values) -> Iterator[str]:
    if values[("bypass-contact",)] is not None:
        yield ""
        yield "# The contact that bypasses the torque switch while the disk leaves its seat."
        yield f"bypass-contact: {values[('bypass-contact',)]}"


def _lamps(values: Values) -> Iterator[str]:
    named = {key[1]: name for key, name in values.items() if key[0] == "lamps" and "name" in key}
    lamps = {index: name for index, name in named.items() if name is not None}
    if lamps:
        yield ""
        yield "# Which contact lights which lamp. Colours follow the site's own convention."
        yield "lamps:"
    for index, name in lamps.items():
        colour = _scalar(values[("lamps", index, "colour")])
        contact = values[("lamps", index, "contact")]
        yield f"  {_scalar(name)}: {{colour: {colour}, contact: {contact}}}"


def _figures(number: float) -> str:
    return str(int(number)) if number.is_integer() else str(number)


def _scalar(text: Any) -> str:
    """A text as YAML, in quotes where it could be taken for something else."""
    plain = _PLAIN.fullmatch(text) and text.lower() not in _WORDS_OF_YAML
    return str(text) if plain else json.dumps(text, ensure_ascii=False)
