"""``gloveside advise`` as the command contract states it."""

from __future__ import annotations

import json

import pytest

from tests.cli.command import KF_07, gloveside


def advise(*words: str) -> tuple[int, dict[str, object]]:
    outcome = gloveside("advise", "--unit", KF_07, "--json", *words)
    return outcome.code, json.loads(outcome.out)


def test_not_yet() -> None:
    # Row 1 of the direction table: common practice, no source.
    code, advice = advise(
        "--rotor",
        "open",
        "--while-moving",
        "opening=counterclockwise",
        "--contacts",
        "1 open, 2 open",
    )
    assert code == 0
    assert set(advice) == {"verdict", "turn", "leave", "reasons"}
    assert advice["verdict"] == "not-yet"
    assert advice["turn"] == "counterclockwise"
    assert advice["leave"] == {"1": "closed", "2": "closed", "3": "open", "4": "open"}


def test_already_read_on_break_contacts() -> None:
    # Row 7 of the direction table, on contacts that break past the trip: common practice.
    code, advice = advise(
        "--rotor", "closed", "--while-moving", "closing=clockwise", "--contacts", "7 open, 8 open"
    )
    assert (code, advice["verdict"], advice["turn"]) == (0, "already", "counterclockwise")


def test_a_contradiction_gives_no_direction_and_is_a_problem_found() -> None:
    # Readings of one rotor that disagree give no direction: common practice.
    code, advice = advise(
        "--rotor", "open", "--while-moving", "opening=clockwise", "--contacts", "1 open, 2 closed"
    )
    assert (code, advice["verdict"], advice["turn"]) == (1, "contradiction", None)
    assert advice["reasons"]


@pytest.mark.parametrize(
    ("words", "names"),
    [
        (
            ["--rotor", "opne", "--while-moving", "opening=clockwise", "--contacts", "1 open"],
            "opne",
        ),
        (["--rotor", "open", "--while-moving", "up=clockwise", "--contacts", "1 open"], "up="),
        (
            ["--rotor", "open", "--while-moving", "opening=clockwise", "--contacts", "1 shut"],
            "1 shut",
        ),
        (["--rotor", "open", "--while-moving", "opening=clockwise", "--contacts", "5 open"], "5"),
        (
            [
                "--rotor",
                "open",
                "--while-moving",
                "opening=clockwise",
                "--contacts",
                "1 open, 1 closed",
            ],
            "contact 1",
        ),
    ],
)
def test_bad_use_names_the_thing(words: list[str], names: str) -> None:
    outcome = gloveside("advise", "--unit", KF_07, *words)
    assert outcome.code == 2
    assert names in outcome.err


def test_a_missing_unit_sheet_is_named() -> None:
    outcome = gloveside(
        "advise",
        "--unit",
        "no-such.yaml",
        "--rotor",
        "open",
        "--while-moving",
        "opening=clockwise",
        "--contacts",
        "1 open",
    )
    assert outcome.code == 2
    assert "no-such.yaml:1:1: error there is no such file" in outcome.err
