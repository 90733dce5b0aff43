"""What shows a rotor as found once its shaft was to be turned. Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from assistant.journal.as_found import AsFound
from assistant.journal.entry import Entry, opening
from assistant.journal.proofs import Proofs
from assistant.journal.recorded import recorded_in
from assistant.journal.verdicts import judged, open_disagreements
from tests.journal.chained import chained
from tests.journal.test_proofs import ADVICE, advised, recorded

SWEPT = recorded("then", {"contacts": {"1": "open"}}, "") | {
    "step": "find/read",
    "confirmed": {"find/read": {"contacts": {"1": "open"}}},
}
TRIP = {"percent": 89.5, "error": -8.9, "within": False}
FOUND = recorded("trip-as-found", TRIP) | {"confirmed": {"find/end": {"command": "mark"}}}
BACK = {"kind": "heard", "went_back": "find/read"}
SET = {"kind": "heard", "step": "set/left", "confirmed": {"set/left": {"command": "mark"}}}


def journal(*bodies: dict[str, Any]) -> list[Entry]:
    return chained((opening({}, {}, {}, {}, "0.1.0"), *bodies))


def as_found_since(*bodies: dict[str, Any]) -> list[int | None]:
    """Of each reading as found since which line it is none."""
    entries = journal(*bodies)
    proofs = Proofs(entries)
    return [
        None if void is None else void.line
        for entry in entries
        for value in recorded_in(entry)
        if value.short == "trip-as-found"
        for void in [proofs.of(entry.seq, value)]
    ]


def test_a_rotor_is_read_as_found_until_its_shaft_was_to_be_turned() -> None:
    assert as_found_since(SWEPT, FOUND, ADVICE) == [None]
    assert as_found_since(SWEPT, ADVICE, FOUND) == [None]  # told later, of the stroke before
    assert as_found_since(ADVICE, SWEPT, FOUND) == [2]
    assert as_found_since(advised("closed", "clockwise"), SWEPT, FOUND) == [None]
    assert as_found_since(advised("open", None), SWEPT, FOUND) == [None]


def test_going_back_over_it_turns_no_shaft_back() -> None:
    assert as_found_since(SWEPT, FOUND, ADVICE, BACK, SWEPT, FOUND) == [None, 4]
    # Nor is it read again where the record goes back to a later step.
    later = {"kind": "heard", "went_back": "find/end"}
    assert as_found_since(SWEPT, FOUND, ADVICE, later, FOUND) == [None, None]


def test_without_a_slow_stroke_it_is_read_where_it_is_recorded() -> None:
    assert as_found_since(ADVICE, FOUND) == [2]
    assert AsFound(journal(FOUND, ADVICE)).is_past(2)


@pytest.mark.parametrize(("line", "past"), [(1, True), (2, True), (3, False), (5, False)])
def test_from_which_lines_on_it_would_be_read_again(line: int, past: bool) -> None:
    assert AsFound(journal(SWEPT, FOUND, ADVICE, SET)).is_past(line) is past


def test_nobody_is_sent_back_to_a_reading_as_found_once_a_shaft_was_turned() -> None:
    verdict = judged(2, "find/read", "JT", agrees=False)
    (disagreement,) = open_disagreements(journal(SWEPT, FOUND, verdict))
    assert "go back to line 2 and take the reading again" in disagreement.to_clear

    (disagreement,) = open_disagreements(journal(SWEPT, FOUND, ADVICE, SET, verdict))
    assert disagreement.to_clear.startswith("do not go back to line 2: a shaft was to be turned")
    assert "JT reviews the job again and agrees; if not, it stays open" in disagreement.to_clear

    (disagreement,) = open_disagreements(
        journal(SWEPT, FOUND, ADVICE, SET, judged(5, "set/left", "JT", agrees=False))
    )
    assert "go back to line 5 and take the reading again" in disagreement.to_clear
