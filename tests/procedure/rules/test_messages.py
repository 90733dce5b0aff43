"""Broken files, and each mended as its message says.

They were written together with the messages. A second reader, who knew the rules and had not seen
the mends, mended each from file and message alone: twelve of twelve at the second go, eleven at the
first (a message that offered two ways, of which one led to another finding, now offers the other).
`words-told`, `question-asked`, `answer-counts` and `unit-told` came later; only their writers have
mended them.
"""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest

from assistant.procedure.problems import Problem
from assistant.procedure.rules.lint_file import lint_file
from tests.procedure.rules.samples import MEANS

HERE = Path(__file__).parent
RULES_BROKEN = sorted(file.stem for file in (HERE / "broken").glob("*.yaml"))
MOST_CHANGED = 6
"""Lines that a mend may take or add: the message tells a small change, not a new procedure."""


def problems(kind: str, rule: str) -> list[Problem]:
    return list(lint_file(HERE / kind / f"{rule}.yaml", MEANS))


def test_there_are_ten_at_least() -> None:
    assert len(RULES_BROKEN) >= 10
    assert sorted(file.stem for file in (HERE / "mended").glob("*.yaml")) == RULES_BROKEN


@pytest.mark.parametrize("rule", RULES_BROKEN)
def test_a_broken_file_breaks_its_rule_and_no_other(rule: str) -> None:
    assert [problem.rule for problem in problems("broken", rule)] == [rule]


@pytest.mark.parametrize("rule", RULES_BROKEN)
def test_nothing_is_found_in_the_mended_file(rule: str) -> None:
    assert problems("mended", rule) == []


@pytest.mark.parametrize("rule", RULES_BROKEN)
def test_the_mend_is_small(rule: str) -> None:
    broken, mended = (
        (HERE / kind / f"{rule}.yaml").read_text(encoding="utf-8").splitlines()
        for kind in ("broken", "mended")
    )
    changed = [line for line in difflib.ndiff(broken, mended) if line[0] in "+-" and line[2:]]
    assert 0 < len(changed) <= MOST_CHANGED
