"""The readings and the recorded values as CSV (RFC 4180), for another program.

One value a row. A reading of contacts gives a row for each contact, a proved trip one for each of
its numbers. What was taken back by going back is left out.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from assistant.journal.canonical import encode
from assistant.journal.entry import Entry
from assistant.journal.standing import standing
from assistant.record.recorded import Recorded, recorded_of
from assistant.record.words import clean, in_words, mapping_of, states_of

__all__ = ["HEADING", "to_csv"]

HEADING = ("time", "step", "name", "value", "unit", "rotor")

Row = tuple[str, str, str, str, str, str]
_Part = tuple[str, str, str]
"""What is added to the name, the value, guarded, and its unit."""

_FORMULA = ("=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What makes a spreadsheet take a text for a formula, in both widths."""

_TRIP_UNITS: Mapping[str, str] = {"percent": "%", "error": "%", "turns": "turns", "within": ""}


def to_csv(entries: Sequence[Entry]) -> str:
    """The rows, a heading first; a text that a spreadsheet would run begins with an apostrophe."""
    sink = io.StringIO()
    writer = csv.writer(sink, lineterminator="\r\n")
    writer.writerow(HEADING)
    writer.writerows(_rows(entries))
    return sink.getvalue()


def _rows(entries: Sequence[Entry]) -> Iterator[Row]:
    by_entry: dict[int, list[Recorded]] = {}
    for value in recorded_of(entries):
        by_entry.setdefault(value.seq, []).append(value)
    for entry in standing(entries):
        recorded = by_entry.get(entry.seq, [])
        yield from _confirmed(entry, [value.written for value in recorded])
        for value in recorded:
            for part in _values(value.written):
                yield _row(entry, value.name, part, (value.unit, value.rotor))


def _confirmed(entry: Entry, recorded: Sequence[Any]) -> Iterator[Row]:
    """The readings of contacts that an entry confirms and does not also record."""
    for name, answer in mapping_of(entry.body.get("confirmed")).items():
        if states_of(answer) and answer not in recorded:
            for part in _values(answer):
                yield _row(entry, clean(name), part, ("", ""))


def _values(written: Any) -> Iterator[_Part]:
    if states := states_of(written):
        for contact, state in sorted(states.items()):
            yield f"contact {contact}", state, ""
        return
    match written:
        case {"number": int() | float() as number, "unit": unit}:
            yield "", _number(number), in_words(unit or "")
        case {"percent": _, "error": _, "within": _}:
            for name, unit in _TRIP_UNITS.items():
                if name in written:
                    yield name, _plain(written[name]), unit
        case _:
            yield "", _plain(written), ""


def _plain(value: Any) -> str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _number(value)
    return _guarded(in_words(value))


def _number(number: float) -> str:
    """A number stays whole, its sign too: it cannot be a formula."""
    return encode(number).decode()


def _row(entry: Entry, name: str, part: _Part, of: tuple[str, str]) -> Row:
    """A row for a part of a value, whose unit, if it has none of its own, and rotor are `of`."""
    more, text, own = part
    step, full = in_words(entry.body.get("step", "")), f"{name} {more}".strip()
    unit, rotor = own or of[0], of[1]
    return (entry.time, _guarded(step), _guarded(full), text, _guarded(unit), _guarded(rotor))


def _guarded(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA) else text
