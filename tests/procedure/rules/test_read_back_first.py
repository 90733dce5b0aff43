"""A question that is not read back is told once, at its step; common practice, no source."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from assistant.procedure.problems import Problem
from assistant.procedure.rules.lint_file import lint_file
from tests.procedure.rules.samples import MEANS
from tests.procedure.shipped import FLAGSHIP, PROCEDURES

MOST_LINES = 60
"""Of a finding with its way; more is not read."""


def line_of(step: str, text: str) -> int:
    return text.splitlines().index(f"  - step: {step}") + 1


def without_read_back(folder: Path, *steps: str) -> tuple[Path, list[Problem]]:
    """The flagship's part that sets a rotor, its steps spoiled, and what is told of it."""
    copy = folder / "procedures"
    shutil.copytree(PROCEDURES, copy)
    part = copy / "parts" / "set-rotor.yaml"
    lines = part.read_text(encoding="utf-8").splitlines(keepends=True)
    for step in steps:
        lines.insert(line_of(step, "".join(lines)), "    read-back: no\n")
    part.write_text("".join(lines), encoding="utf-8")
    return part, [one for one in lint_file(copy / FLAGSHIP.name, MEANS) if one.level == "error"]


def test_a_reading_that_is_not_read_back_is_told_once_at_its_step(tmp_path: Path) -> None:
    part, (problem,) = without_read_back(tmp_path, "read")
    line = line_of("read", part.read_text(encoding="utf-8"))
    assert (problem.place.file, problem.place.line) == (str(part), line)
    assert problem.rule == "read-back-first"
    assert "used at 'finding', 'begin', 'turn' and 3 more" in problem.message
    assert problem.way[-1].endswith("open-end/set/finding")
    assert len(problem.way) < MOST_LINES


@pytest.mark.parametrize("other", ["read-again", "end-stop"])
def test_each_such_question_is_told_at_its_own_step(tmp_path: Path, other: str) -> None:
    part, problems = without_read_back(tmp_path, "read", other)
    text = part.read_text(encoding="utf-8")
    assert [one.place.line for one in problems] == sorted(
        line_of(step, text) for step in ("read", other)
    )


def test_a_reading_that_no_direction_comes_from_may_stay_as_it_is(tmp_path: Path) -> None:
    assert without_read_back(tmp_path, "check-left")[1] == []
