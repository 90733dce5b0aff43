"""Words that answer a step, and prompts that say them or do not; common practice, no source."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.procedure.rules.samples import problems_in

COUNT = """\
- step: count
  {notice}say: {say}
  ask: number
  unit: turns
  called: [mark, full-stop]
  instead: [none]
  least: 0
  most: 40
  into: turns
  go: next
- step: ask
  say: Done?
  ask: done
"""


def untold(say: str, folder: Path, notice: str = "") -> list[str]:
    """The words of the step that the rule finds missing in this prompt."""
    problems = problems_in(COUNT.format(say=say, notice=notice), folder)
    found = [problem.message for problem in problems if problem.rule == "words-told"]
    assert len(found) <= 1
    return re.findall(r"'([^']+)'", found[0]) if found else []


@pytest.mark.parametrize(
    ("say", "missing"),
    [
        ("Say mark, or full stop, and the turns, or none.", []),
        ("Say MARK, or Full stop: and the turns. Or none!", []),
        ("Say mark and the turns, or none.", ["full stop"]),
        ("Say mark, full and the turns at the stop, or none.", ["full stop"]),
        ("Say market, full stop or none.", ["mark"]),
        ("Count the turns.", ["mark", "full stop", "none"]),
        ("Mark it at the full stop. Or none.", ["mark", "full stop"]),
    ],
)
def test_each_word_with_a_number_or_in_its_place_is_told(
    say: str, missing: list[str], tmp_path: Path
) -> None:
    assert untold(f'"{say}"', tmp_path) == missing


def test_what_a_caution_says_tells_no_answer(tmp_path: Path) -> None:
    caution = "caution: None may mark it at the full stop.\n  "
    assert untold("Count the turns.", tmp_path, caution) == ["mark", "full stop", "none"]
