"""The record as JSON is what its schema says."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.journal.independent import Point
from assistant.journal.verdicts import compared
from assistant.record.plain import FORMAT, schema, to_json
from assistant.record.summary import summarise
from tests.record.anything import anything
from tests.record.test_record_evidence import (
    DUE,
    RIGHT,
    SHEET,
    SIGNED,
    TESTED,
    entries,
    recorded,
)
from tests.record.test_record_evidence import trip as trip_of
from tests.units import KF_07

CHECK = jsonschema.Draft202012Validator(schema())

EXCHANGE = {
    "kind": "heard",
    "step": "read",
    "said": ["Caution. Slowly.", "Read."],
    "heard": {"text": "one open", "confidence": 0.75, "seconds": 1.2, "engine": "typed"},
    "meant": {"contacts": {"1": "open"}},
    "confirmed": {"read": {"contacts": {"1": "open"}}},
    "clip": {"file": "clips/0001.wav", "sha256": "00" * 32},
    "advice": {"rotor": "open", "verdict": "not-yet", "turn": None, "leave": {}, "reasons": ["x"]},
    "deviations": ["So."],
}
JOB = (EXCHANGE, trip_of("x/as-found", "open", 89.5, -8.9, False), *RIGHT, *TESTED, *SIGNED)


def plain(*bodies: dict[str, Any], sheet: bool = True) -> dict[str, Any]:
    text = to_json(summarise(entries(*bodies), SHEET if sheet else None, DUE))
    told: dict[str, Any] = json.loads(text)
    return told


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    assert schema()["properties"]["format"] == {"const": FORMAT}


@pytest.mark.parametrize("length", [0, 1, len(JOB)])
@pytest.mark.parametrize("sheet", [True, False])
def test_a_record_is_as_its_schema_says(length: int, sheet: bool) -> None:
    CHECK.validate(plain(*JOB[:length], sheet=sheet))


def test_every_part_of_the_schema_is_written_by_a_whole_job() -> None:
    told = plain(*JOB)
    empty = {name for name, value in told.items() if value in ([], None, "")}
    # A whole job has nothing on which nobody agrees.
    assert empty == {
        *("sources", "disagreements", "comparisons", "key_signatures"),
        *("signature_faults", "lost_clips", "known", "stands", "lost"),
    }
    assert told["rotors"][0]["trip"]["percent"] == 98.387
    assert told["lamps"][0]["agrees"] is True
    assert told["open"] == ["1 deviation (“So”, line 2)"]


@pytest.mark.parametrize("name", schema()["required"])
def test_the_schema_notices_what_is_missing_or_of_another_form(name: str) -> None:
    told = plain(*JOB)
    assert not CHECK.is_valid({key: value for key, value in told.items() if key != name})
    assert not CHECK.is_valid({**told, name: {"other": 1}})


def test_the_schema_notices_what_it_does_not_know() -> None:
    assert not CHECK.is_valid({**plain(*JOB), "other": 1})


NAMES = ("as-left", "as-found", "stroke-time", "lamps-in-travel", "signed-done", "after-setting")


@settings(deadline=None)
@given(st.sampled_from(NAMES), anything, anything)
def test_whatever_was_recorded_makes_a_record(name: str, written: Any, clip: Any) -> None:
    body = recorded(f"x/{name}", written, "open") | {"clip": {"file": clip}}
    CHECK.validate(json.loads(to_json(summarise(entries(body), KF_07))))


def test_a_comparison_is_in_the_record_with_both_values_and_their_lines() -> None:
    points = (
        Point("trip of the open rotor", "98.387 %", "95.565 %", False, 45, 30),
        Point("lamps when open", "open lamp", None, None, 64, None),
    )
    told = plain(*JOB, compared("JT", "ab" * 32, points))
    CHECK.validate(told)
    (comparison,) = told["comparisons"]
    assert (comparison["by"], comparison["root"]) == ("JT", "ab" * 32)
    assert [
        (one["first"], one["second"], one["verdict"], one["first_line"], one["second_line"])
        for one in comparison["points"]
    ] == [
        ("98.387 %", "95.565 %", "differs", 45, 30),
        ("open lamp", None, "only in the job", 64, None),
    ]


@given(anything, anything)
@settings(deadline=None)
def test_whatever_a_comparison_holds_makes_a_record(points: Any, what: Any) -> None:
    listed = [points, {"what": "trip", "agrees": True, "first": what, "first_line": what}]
    body = {"kind": "compared", "by": what, "with_root": points, "points": listed}
    CHECK.validate(json.loads(to_json(summarise(entries(body), KF_07))))


def test_a_proof_that_became_void_is_none_and_says_why() -> None:
    free = {"kind": "heard", "confirmed": {"shafts": {"choice": "free"}}}
    told = plain(*JOB, free)
    CHECK.validate(told)
    rotor = told["rotors"][0]
    assert rotor["trip"] is None
    assert rotor["was"]["within"] is True
    line = len(JOB) + 2
    assert rotor["void"] == {"line": line, "why": "a shaft was found free", "rotor": None}
