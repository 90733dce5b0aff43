"""The readings and the recorded values as CSV (RFC 4180), for another program.

One value a row. A reading of contacts gives a row for each contact, a proved trip one for each of
its numbers. What was taken back by going back is left out. A proof that counts no more says since
where and why. Deviations and notes have rows too, whether an answer was taken back or not.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from assistant.journal.canonical import encode
from assistant.journal.entry import Entry
from assistant.journal.proofs import LockedBy, Proofs
from assistant.journal.standing import taken_back
from assistant.record.recorded import Recorded, recorded_of
from assistant.record.remarks import DEVIATION, NOTE, remarks_of
from assistant.record.words import clean, in_words, mapping_of, states_of

__all__ = ["HEADING", "to_csv"]

HEADING = ("time", "step", "name", "value", "unit", "rotor", "void")

_REMARKS = (DEVIATION, NOTE)

Row = tuple[str, str, str, str, str, str, str]
_Part = tuple[str, str, str]
"""What is added to the name, the value, guarded, and its unit."""

_FORMULA = ("=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What makes a spreadsheet take a text for a formula, in both widths."""

_TRIP_UNITS: Mapping[str, str] = {"percent": "%", "error": "%", "turns": "turns", "within": ""}


def to_csv(entries: Sequence[Entry], locked: LockedBy | None = None) -> str:
    """The rows, a heading first; a text that a spreadsheet would run begins with an apostrophe.

    Args:
        entries: of the journal.
        locked: by the procedure, see `assistant.journal.proofs.locked_by`.
    """
    sink = io.StringIO()
    writer = csv.writer(sink, lineterminator="\r\n")
    writer.writerow(HEADING)
    writer.writerows(_rows(entries, Proofs(entries, locked)))
    return sink.getvalue()


def _rows(entries: Sequence[Entry], proofs: Proofs) -> Iterator[Row]:
    by_entry: dict[int, list[Recorded]] = {}
    for value in recorded_of(entries, proofs):
        by_entry.setdefault(value.seq, []).append(value)
    told: dict[int, list[tuple[str, str]]] = {}
    for remark in remarks_of(entries):
        if remark.what in _REMARKS:
            told.setdefault(remark.seq, []).append((remark.what.lower(), remark.why))
    gone = taken_back(entries)
    for entry in entries:
        if entry.seq not in gone:
            yield from _counting(entry, by_entry.get(entry.seq, []))
        for name, words in told.get(entry.seq, ()):
            yield _row(entry, name, ("", _guarded(words), ""), ("", "", ""))


def _counting(entry: Entry, recorded: Sequence[Recorded]) -> Iterator[Row]:
    """The rows of an entry whose answer counts."""
    yield from _confirmed(entry, [value.written for value in recorded])
    for value in recorded:
        for part in _values(value.written):
            yield _row(entry, value.name, part, (value.unit, value.rotor, value.void))


def _confirmed(entry: Entry, recorded: Sequence[Any]) -> Iterator[Row]:
    """The readings of contacts that an entry confirms and does not also record."""
    for name, answer in mapping_of(entry.body.get("confirmed")).items():
        if states_of(answer) and answer not in recorded:
            for part in _values(answer):
                yield _row(entry, clean(name), part, ("", "", ""))


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


def _row(entry: Entry, name: str, part: _Part, of: tuple[str, str, str]) -> Row:
    """A row for a part of a value; unit, if it has none of its own, rotor and void are `of`."""
    more, text, own = part
    step, full = in_words(entry.body.get("step", "")), f"{name} {more}".strip()
    unit, rotor, void = own or of[0], of[1], of[2]
    texts = (_guarded(step), _guarded(full), text, _guarded(unit), _guarded(rotor))
    return (entry.time, *texts, void)


def _guarded(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA) else text
