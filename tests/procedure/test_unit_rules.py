"""The rules for unit sheets: the samples of each manual, and none warns of what is shipped.

The sources of the rules stand in their manuals; here a sheet that keeps to common practice
(back-offs of 1 and 1.5 turns of 40, no source) is changed by the samples.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from assistant.procedure.problems import Problem
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.rules.manual import manual_of
from assistant.procedure.rules.rule import UnitRule
from assistant.procedure.unit_rules.judge import judge_sheet
from assistant.procedure.unit_rules.registry import UNIT_RULES
from tests.procedure.rules.samples import MEANS, samples_of
from tests.procedure.shipped import KF_07, KF_12

LEAST = """\
unit: KF-99
service: Trial gate
drawing: KF-E-299
revision: A
seating: torque
numbers:
  stroke-turns: {value: 40, origin: counted}
rotors:
  open: {contacts: [1, 2], set-at: open end, set-while: opening}
  closed: {contacts: [5, 6], set-at: closed end, set-while: closing}
contacts:
  1: [[97.5, 100]]
  2: [[0, 97.5]]
  5: [[0, 3.75]]
  6: [[3.75, 100]]
"""


def sheet_with(sample: str) -> str:
    """The least sheet with what a sample states besides."""
    sheet: dict[str, Any] = yaml.safe_load(LEAST)
    for name, value in yaml.safe_load(sample).items():
        sheet[name] = {**sheet.get(name, {}), **value} if isinstance(value, dict) else value
    return yaml.safe_dump(sheet, sort_keys=False)


def broken(rule: UnitRule, sample: str) -> list[Problem]:
    found = judge_sheet(sheet_with(sample), "u.yaml")
    return [problem for problem in found if problem.rule == rule.name]


@pytest.mark.parametrize("rule", UNIT_RULES.values(), ids=UNIT_RULES)
def test_the_samples_of_a_manual(rule: UnitRule) -> None:
    (passing,), (failing,) = (
        samples_of(manual_of(rule), "Passes"),
        samples_of(manual_of(rule), "Fails"),
    )
    assert broken(rule, passing) == []
    problems = broken(rule, failing)
    assert problems
    for problem in problems:
        assert problem.level == "warning"
        assert problem.place.line > 1
        assert "\n" not in problem.message


@pytest.mark.parametrize("rule", UNIT_RULES.values(), ids=UNIT_RULES)
def test_a_manual_names_its_source_and_its_rule(rule: UnitRule) -> None:
    assert any(word in manual_of(rule) for word in ("common practice", "arithmetic", "Circular"))
    assert rule.check.__module__.endswith(rule.name.replace("-", "_"))


@pytest.mark.parametrize("sheet", [KF_07, KF_12], ids=["KF-07", "KF-12"])
def test_no_rule_warns_of_what_is_shipped(sheet: Path) -> None:
    assert list(lint_file(sheet, MEANS)) == []


def test_a_warning_stands_where_the_sheet_states_the_thing() -> None:
    text = KF_07.read_text(encoding="utf-8").replace("bypass-contact: 5\n", "")
    (problem,) = judge_sheet(text, "u.yaml")
    line = text.splitlines().index("seating: torque") + 1
    assert (problem.rule, problem.place.line, problem.place.column) == ("bypass-unnamed", line, 1)


def test_a_silent_tolerance_is_the_default_too() -> None:
    assert {problem.rule for problem in judge_sheet(LEAST, "u.yaml")} == {
        "default-number",
        "stroke-time-missing",
        "bypass-unnamed",
    }


def test_a_warning_is_allowed_by_a_comment_with_a_reason() -> None:
    text = KF_07.read_text(encoding="utf-8").replace("bypass-contact: 5\n", "")
    seats = "seating: torque  # allow bypass-unnamed"
    reason = text.replace("seating: torque", f"{seats}: it has none, says the drawing")
    assert list(judge_sheet(reason, "u.yaml")) == []
    problems = judge_sheet(text.replace("seating: torque", seats), "u.yaml")
    assert {problem.rule for problem in problems} == {"bypass-unnamed", "allow"}
    idle = KF_07.read_text(encoding="utf-8").replace("seating: torque", f"{seats}: no reason")
    (needless,) = judge_sheet(idle, "u.yaml")
    assert "nothing here breaks" in needless.message
