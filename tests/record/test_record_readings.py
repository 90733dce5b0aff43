"""The CSV: RFC 4180, a value a row, and nothing that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.journal.entry import Entry, opening
from assistant.language.meaning import ContactStates, to_json
from assistant.record.readings import HEADING, to_csv
from assistant.trade.contacts import ContactState
from tests.journal.chained import chained
from tests.record.anything import anything

OPENED = opening({}, {}, {}, {}, "0.1.0")
READ = to_json(ContactStates.of({1: ContactState.OPEN, 12: ContactState.CLOSED}))


def entries(*bodies: dict[str, Any]) -> list[Entry]:
    return chained((OPENED, *bodies))


def recorded(name: str, value: Any, **more: Any) -> dict[str, Any]:
    return {"kind": "heard", "step": "s", "recorded": [{"name": name, "value": value, **more}]}


def rows(*bodies: dict[str, Any]) -> list[list[str]]:
    text = to_csv(entries(*bodies))
    heading, *others = csv.reader(io.StringIO(text, newline=""), strict=True)
    assert tuple(heading) == HEADING
    return others


def values(*bodies: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    return [(row[2], row[3], row[4], row[5]) for row in rows(*bodies)]


def test_a_row_has_time_step_name_value_unit_and_rotor() -> None:
    body = recorded("a/turns", "one", written={"number": 0.25, "unit": "turns"}, rotor="open")
    assert rows(body) == [["2031-05-14T08:02:00.000Z", "s", "a/turns", "0.25", "turns", "open", ""]]


def test_a_reading_has_a_row_for_each_contact() -> None:
    assert values(recorded("found", "x", written=READ, rotor="open")) == [
        ("found contact 1", "open", "", "open"),
        ("found contact 12", "closed", "", "open"),
    ]


def test_a_trip_has_a_row_for_each_of_its_numbers() -> None:
    trip = {"percent": 98.387, "error": -0.013, "turns": 61, "within": True}
    assert values(recorded("as-left", "x", written=trip, rotor="open")) == [
        ("as-left percent", "98.387", "%", "open"),
        ("as-left error", "-0.013", "%", "open"),
        ("as-left turns", "61", "turns", "open"),
        ("as-left within", "yes", "", "open"),
    ]


def test_a_confirmed_reading_is_a_row_unless_it_is_recorded_at_once() -> None:
    confirmed = {"kind": "heard", "confirmed": {"read": READ, "sure": {"command": "yes"}}}
    assert [name for name, *_ in values(confirmed)] == ["read contact 1", "read contact 12"]
    both = confirmed | recorded("found", "x", written=READ)
    assert [name for name, *_ in values(both)] == ["found contact 1", "found contact 12"]


def test_what_was_taken_back_is_left_out() -> None:
    body = recorded("a", "one") | {"confirmed": {"s": {"command": "yes"}}}
    assert values(body, {"kind": "heard", "went_back": "s"}) == []


def test_a_proof_that_became_void_says_since_where() -> None:
    trip = {"percent": 98.4, "error": 0.0, "within": True}
    proof = recorded("as-left", "x", written=trip, rotor="open")
    free = {"kind": "heard", "confirmed": {"shafts": {"choice": "free"}}}
    found = rows(proof, free)
    assert {row[6] for row in found} == {"since line 3: a shaft was found free"}


def test_deviations_and_notes_have_rows_whatever_was_taken_back() -> None:
    said = {"kind": "heard", "deviations": ["=Too fast."], "confirmed": {"s": {"command": "yes"}}}
    note = {"kind": "heard", "note": True, "heard": {"text": "the gland leaks"}}
    assert values(said, note, {"kind": "heard", "went_back": "s"}) == [
        ("deviation", "'=Too fast.", "", ""),
        ("note", "the gland leaks", "", ""),
    ]


# RFC 4180 §2: lines end in CRLF; a field with a comma, a quote or a line break is quoted, and a
# quote in it doubled.


def test_lines_end_and_fields_are_quoted_as_the_rfc_has_it() -> None:
    text = to_csv(entries(recorded("a", 'said "no", twice')))
    assert text.endswith('s,a,"said ""no"", twice",,,\r\n')
    assert text.count("\n") == text.count("\r\n") == 2


# A cell that begins with one of these is a formula to spreadsheets (common practice; the OWASP
# page on CSV injection names them, the wide forms too).

STARTS = ("=", "+", "-", "@", "\t=", "\r=", "\uff1d", "\uff0b", "\uff0d", "\uff20")


@pytest.mark.parametrize("start", STARTS)
def test_no_text_can_be_a_formula(start: str) -> None:
    text = f"{start}cmd|' /C calc'!A0"
    body = recorded(text, text, unit=text, rotor=text) | {"step": text}
    nested = recorded("a", {"choice": text})
    lone = {"kind": "heard", "step": "s", "confirmed": {text: READ}}
    for row in rows(body, nested, lone):
        cells = [cell for cell in row[1:] if "calc" in cell]
        assert cells
        assert all(cell.startswith("'") for cell in cells)


def test_a_negative_number_stays_a_number() -> None:
    body = recorded("a", "x", written={"number": -0.012903225806454088, "unit": "%"})
    assert values(body) == [("a", "-0.012903225806454088", "%", "")]


@settings(deadline=None)
@given(st.text(max_size=6), anything, anything)
def test_every_value_makes_whole_rows_of_one_line(name: str, value: Any, confirmed: Any) -> None:
    body = recorded(name, value, unit=value) | {"confirmed": {name: confirmed}}
    for row in rows(body):
        assert len(row) == len(HEADING)
        for cell in row:
            assert not re.match(r"[=+@\t\r]", cell)
            assert not cell.startswith("-") or float(cell) <= 0
            assert "\n" not in cell
