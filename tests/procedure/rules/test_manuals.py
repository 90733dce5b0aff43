"""Every rule has a manual whose samples are true."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from assistant.procedure.rules.registry import RULES
from assistant.procedure.rules.rule import Rule
from tests.procedure.rules.samples import problems_in, samples_of


def manual(rule: Rule) -> str:
    return sys.modules[rule.check.__module__].__doc__ or ""


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_passing_sample_does_not_break_the_rule(rule: Rule, tmp_path: Path) -> None:
    samples = samples_of(manual(rule), "Passes")
    assert samples
    for sample in samples:
        broken = {problem.rule for problem in problems_in(sample, tmp_path)}
        assert rule.name not in broken
        assert broken <= RULES.keys(), "the sample can be loaded"


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_failing_sample_breaks_the_rule(rule: Rule, tmp_path: Path) -> None:
    samples = samples_of(manual(rule), "Fails")
    assert samples
    for sample in samples:
        problems = problems_in(sample, tmp_path)
        broken = [problem for problem in problems if problem.rule == rule.name]
        assert broken, [str(problem) for problem in problems]
        assert {problem.level for problem in broken} == {rule.level}


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_manual_names_its_source(rule: Rule) -> None:
    assert "Source:" in manual(rule) or "common practice" in manual(rule)
