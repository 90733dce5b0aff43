"""What forbids more than 200 turns a minute, and by when; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.procedure.rules.samples import problems_in

WATCH = """\
- step: watch
  say: Which way did the shaft turn?
  ask: rotation
  of: rotor
  into: way
"""
BEGIN = """\
- step: begin
  {caution}say: Say mark as you begin to turn the shaft {{way}}.
  ask: mark
"""
TURN = """\
- step: turn
  {caution}say: Turn the shaft {{way}}. Say done.
  does:
    - turn-shaft: {{rotor: rotor, way: way}}
  ask: done
"""
BEFORE = """\
- step: before
  {caution}say: Take the driver. Say done.
  ask: done
"""
LIMIT = "Never above two hundred turns a minute."


def found(folder: Path, *steps: str) -> list[int]:
    """The lines of the steps in which the rule finds the limit unspoken."""
    problems = problems_in("".join((WATCH, *steps)), folder)
    assert not [one for one in problems if one.rule in ("name", "syntax", "field")]
    return [one.place.line for one in problems if one.rule == "speed-limit"]


def with_caution(step: str, says: str | None = None) -> str:
    return step.format(caution="" if says is None else f'caution: "{says}"\n  ')


@pytest.mark.parametrize(
    ("says", "is_limit"),
    [
        (LIMIT, True),
        ("The gears are soft. At most 200 rpm.", True),
        ("Do not turn it faster than two hundred revolutions a minute.", True),
        ("No more than 200 turns a minute.", True),
        ("Above two hundred turns a minute is fine.", False),
        ("Two hundred turns a minute.", False),
        ("Never force it. Two hundred turns a minute is fine.", False),
        ("Never below two hundred turns a minute.", False),
        ("Never above one thousand two hundred turns a minute.", False),
        ("Never above 1,200 rpm.", False),
        ("Never above 1 200 rpm.", False),
        ("Never above 1200 rpm.", False),
    ],
)
def test_a_caution_forbids_more_or_is_none(says: str, is_limit: bool, tmp_path: Path) -> None:
    assert bool(found(tmp_path, with_caution(TURN, says))) is not is_limit


def test_the_limit_is_spoken_by_the_mark_at_which_the_turning_begins(tmp_path: Path) -> None:
    begin, turn = with_caution(BEGIN), with_caution(TURN)
    assert found(tmp_path, with_caution(BEGIN, LIMIT), turn) == []
    assert found(tmp_path, with_caution(BEFORE, LIMIT), begin, turn) == []
    (late,) = found(tmp_path, begin, with_caution(TURN, LIMIT))
    (never,) = found(tmp_path, begin, turn)
    assert late == never


def test_a_mark_of_something_else_begins_no_turn(tmp_path: Path) -> None:
    begin, turn = with_caution(BEGIN), with_caution(TURN, LIMIT)
    between = "- step: between\n  say: Are you there? Say done.\n  ask: done\n"
    assert found(tmp_path, begin, between, turn) == []
