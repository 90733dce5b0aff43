"""A direction that is said and not the one that is done, in the shipped parts and in steps.

That a shaft turned, or a valve cranked, the other way is set wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.procedure.rules.mutants import Mutant, judged
from tests.procedure.rules.samples import problems_in
from tests.procedure.shipped import PROCEDURES

FLAGSHIP, STROKES = "set-geared-limits.yaml", "stroke-time-check.yaml"
SET, FIND = "parts/set-rotor.yaml", "parts/find-trips.yaml"
TEST, BYPASS = "parts/electrical-test.yaml", "parts/prove-bypass.yaml"
BEGIN = "as you begin to turn the {rotor.name} shaft {advice.turn}"
TURN = "Turn the {rotor.name} shaft {advice.turn}. Say mark and"
BACK = "Crank back {rotor.turns} {rotor.away}"
STOP = "say: Crank to the {rotor.stop}."
LAST = "Then crank {rotor.last} {rotor.travel}"
ON = "Turn the {rotor.name} shaft {advice.back}. Say mark exactly"


def found_in(main: str, file: str, *changes: tuple[str, str]) -> list[str]:
    """What the rule says once a shipped file was changed."""
    text = (PROCEDURES / file).read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    verdict = judged("said-direction", Mutant(main, file, "", {file: text}))
    assert not verdict.refused
    return [problem.message for problem in verdict.found("said-direction")]


@pytest.mark.parametrize(
    ("main", "file", "old", "new"),
    [
        (FLAGSHIP, SET, BEGIN, BEGIN.replace("turn}", "back}")),
        (FLAGSHIP, SET, TURN, TURN.replace("turn}", "back}")),
        (FLAGSHIP, SET, BEGIN, BEGIN.replace("{advice.turn}", "clockwise")),
        (FLAGSHIP, SET, TURN, TURN.replace("{advice.turn}", "clockwise")),
        (FLAGSHIP, SET, TURN, TURN.replace("{advice.turn}", "anti-clockwise")),
        (FLAGSHIP, SET, TURN, TURN.replace("{advice.turn}", "{advice.turn}, not clockwise")),
        (FLAGSHIP, SET, TURN, TURN.replace("{advice.turn}", "{advice.turn} or {seen}")),
        (FLAGSHIP, SET, BEGIN, BEGIN.replace(" {advice.turn}", "")),
        (FLAGSHIP, SET, TURN, TURN.replace(" {advice.turn}", "")),
        (FLAGSHIP, SET, ON, ON.replace("back}", "turn}")),
        (FLAGSHIP, SET, "way: advice.turn", "way: advice.back"),
        (
            FLAGSHIP,
            SET,
            BACK,
            "Crank back {rotor.turns} {rotor.to-stop}",
        ),
        (
            FLAGSHIP,
            SET,
            BACK,
            "Crank back {rotor.start} {rotor.away}",
        ),
        (
            FLAGSHIP,
            SET,
            BACK,
            "Crank back one turn {rotor.away}",
        ),
        (FLAGSHIP, SET, BACK, "Crank back {rotor.turns}"),
        (
            FLAGSHIP,
            SET,
            BACK,
            "Crank back {rotor.turns} toward closed",
        ),
        (FLAGSHIP, SET, STOP, "say: Crank {rotor.away}."),
        (FLAGSHIP, SET, STOP, "say: Crank to the open stop."),
        (
            FLAGSHIP,
            SET,
            LAST,
            "Then crank {rotor.last} {rotor.away}",
        ),
        (FLAGSHIP, FIND, "crank to the closed stop.", "crank to the open stop."),
        (FLAGSHIP, FIND, "Crank slowly toward open", "Crank slowly toward closed"),
        (FLAGSHIP, BYPASS, "Crank slowly toward open", "Crank slowly toward closed"),
        (FLAGSHIP, TEST, "Jog it toward open", "Jog it toward closed"),
        (FLAGSHIP, TEST, "Run it closed", "Run it open"),
        (FLAGSHIP, TEST, "as you start it toward open", "as you start it toward closed"),
        (FLAGSHIP, TEST, "as you start it toward open", "as you start it"),
        (FLAGSHIP, TEST, "Crank back {turns} {unit.closing}", "Crank back {turns} {unit.opening}"),
        (STROKES, STROKES, "Run it to the closed end", "Run it to the open end"),
        (STROKES, STROKES, "as you start it toward closed", "as you start it toward open"),
    ],
)
def test_a_shipped_step_that_says_another_direction_or_count_is_found(
    main: str, file: str, old: str, new: str
) -> None:
    assert found_in(main, file) == []
    assert found_in(main, file, (old, new))


def test_both_the_step_and_the_mark_before_it_are_named() -> None:
    told = found_in(
        FLAGSHIP,
        SET,
        (BEGIN, BEGIN.replace("turn}", "back}")),
        (TURN, TURN.replace("turn}", "back}")),
    )
    assert len(told) == 2
    assert all("'{advice.back}' is said" in message for message in told)
    assert sum("in step 'turn' is told 'advice.turn'" in message for message in told) == 1


def test_cranking_on_goes_on_the_way_that_was_told_before() -> None:
    before, after = "{toward: unit.opening, contacts", "{toward: unit.closing, contacts"
    first = found_in(
        FLAGSHIP, FIND, (before, after), ("Crank slowly toward open", "Crank slowly toward closed")
    )
    assert [message for message in first if "crank on" in message]


STEP = """\
- step: jog
  say: {say}
  does:
    - crank-to-stop: {{toward: {toward}}}
  ask: choice
  choices: [open, closed]
"""


@pytest.mark.parametrize(
    ("toward", "say", "finds"),
    [
        (
            "unit.opening",
            "Crank to the open stop.",
            False,
        ),
        ("unit.opening", "Crank it open.", False),
        ("unit.opening", "Crank {unit.opening}.", False),
        (
            "unit.opening",
            "From the closed stop, crank toward open.",
            False,
        ),
        (
            "unit.opening",
            "Crank toward open. Does it move toward open, or toward closed?",
            False,
        ),
        (
            "unit.closing",
            "Run it to the closed end.",
            False,
        ),
        ("unit.closing", "Crank it open.", True),
        ("unit.closing", "Crank to its stop.", True),
        (
            "rotor.to-stop",
            "Crank to the {rotor.stop}.",
            False,
        ),
        (
            "rotor.to-stop",
            "Crank {rotor.to-stop}.",
            False,
        ),
        (
            "rotor.away",
            "Crank to the {rotor.stop}.",
            True,
        ),
        (
            "rotor.away",
            "From the {rotor.stop}, crank {rotor.away}.",
            False,
        ),
        ("unit.opening", "Crank on.", True),
    ],
)
def test_what_says_a_direction(toward: str, say: str, finds: bool, tmp_path: Path) -> None:
    told = problems_in(STEP.format(toward=toward, say=f'"{say} Open, or closed?"'), tmp_path)
    assert not [one for one in told if one.rule in ("name", "syntax", "act")]
    assert any(one.rule == "said-direction" for one in told) is finds


def test_a_mark_that_announces_nothing_need_not_tell_a_direction(tmp_path: Path) -> None:
    steps = """\
- step: warm
  say: Say mark when the lamp is lit.
  ask: mark
- step: crank
  say: Crank to the open stop. Say done.
  does:
    - crank-to-stop: {toward: unit.opening}
  ask: done
"""
    assert not [one for one in problems_in(steps, tmp_path) if one.rule == "said-direction"]
