"""Questions that have no sense, and some that have; common practice, no source."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from assistant.procedure.rules.registry import RULES
from tests.procedure.rules.samples import problems_in


def breaks(rule: str, sample: str, folder: Path) -> bool:
    broken = {problem.rule for problem in problems_in(sample, folder)}
    assert broken <= RULES.keys(), "the sample can be loaded"
    return rule in broken


NUMBER = """\
- step: read
  say: {say}
  ask: number
  unit: {unit}
  least: 0
  most: 300
"""


@pytest.mark.parametrize(
    ("say", "unit", "is_other"),
    [
        ("Read the gauge. How many millimetres?", "bar", True),
        ("How warm is the oil, in degrees?", "bar", True),
        ("How many mm does it stand out?", "turns", True),
        ("How many turns a minute?", "turns", True),
        ("How many revolutions?", "turns", True),  # heard for a number of turns is no revolution
        ("Tighten the plug. How many foot pounds?", "newton metres", True),
        ("How many tubes stand in the rack?", "pieces", True),
        ("How many tubes are full?", "pieces", True),
        ("How many rings did it make?", "turns", True),
        ("Read the gauge. How many bar?", "bar", False),
        ("How many Nm does the wrench show?", "newton metres", False),
        ("How many pieces of tube stand in the rack?", "pieces", False),
        ("How many full turns did it make?", "turns", False),
        ("How many full turns a minute?", "rpm", False),
        ("Count the turns. How many?", "turns", False),
        ("Count the turns. How many are left?", "turns", False),
        ("How many turns a minute?", "rpm", False),
        ("How many turns did the shaft make?", "revolutions", False),
        ("How warm is the oil, in degrees, after ten minutes?", "degrees", False),
        ("After two minutes, what does the gauge show?", "bar", False),
        ("Put the plug in. Turn it four turns. What does the gauge show?", "bar", False),
    ],
)
def test_the_unit_that_is_asked_for(say: str, unit: str, is_other: bool, tmp_path: Path) -> None:
    sample = NUMBER.format(say=json.dumps(say), unit=unit)
    assert breaks("unit-told", sample, tmp_path) == is_other


YES_NO = """\
- step: tight
  say: Listen at the bowl. Is it tight?
  ask: yes-no
  {more}
- step: lamp
  say: Look at the lamp. Is it lit?
  ask: yes-no
  go: {{"yes": return, "no": again}}
- step: again
  hold: The bowl leaks. Screw it tight.
  go: tight
"""


@pytest.mark.parametrize(
    ("more", "is_idle"),
    [
        ('go: {"yes": lamp, "no": lamp}', True),
        ('go: {"yes": next, "no": lamp}', True),
        ('may-skip: yes\n  go: {"yes": lamp, "no": lamp}', True),
        ('go: {"yes": lamp, "no": again}', False),
        ('into: tight\n  record: {tight: tight}\n  go: {"yes": lamp, "no": lamp}', False),
        ('proves: {"yes": people-clear}\n  go: {"yes": lamp, "no": lamp}', False),
    ],
)
def test_a_yes_that_leads_where_a_no_leads(more: str, is_idle: bool, tmp_path: Path) -> None:
    assert breaks("answer-counts", YES_NO.format(more=more), tmp_path) == is_idle


STEP = """\
- step: look
  {lines}
- step: tight
  say: Listen at the bowl. Say done.
  ask: done
"""


@pytest.mark.parametrize(
    ("lines", "is_unasked"),
    [
        ("say: Is the pipe clean?", True),
        ("say: Is the pipe clean? Blow it out.", True),
        ('say: "Again: is it clean?"\n  repeat: tight\n  at-most: 1\n  otherwise: tight', True),
        ("say: The pipe is clean.", False),
        ("say: Is the pipe clean? Say done.\n  ask: done", False),
        ("warning: Do you smell gas? Then leave.", False),
    ],
)
def test_a_question_that_takes_no_answer(lines: str, is_unasked: bool, tmp_path: Path) -> None:
    assert breaks("question-asked", STEP.format(lines=lines), tmp_path) == is_unasked
