"""Every rule has a manual whose samples are true."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.procedure.rules.manual import first_sentence, manual_of
from assistant.procedure.rules.registry import RULES
from assistant.procedure.rules.rule import Rule
from tests.procedure.rules.samples import problems_in, samples_of


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_passing_sample_does_not_break_the_rule(rule: Rule, tmp_path: Path) -> None:
    samples = samples_of(manual_of(rule), "Passes")
    assert samples
    for sample in samples:
        broken = {problem.rule for problem in problems_in(sample, tmp_path)}
        assert rule.name not in broken
        assert broken <= RULES.keys(), "the sample can be loaded"


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_failing_sample_breaks_the_rule(rule: Rule, tmp_path: Path) -> None:
    samples = samples_of(manual_of(rule), "Fails")
    assert samples
    for sample in samples:
        problems = problems_in(sample, tmp_path)
        broken = [problem for problem in problems if problem.rule == rule.name]
        assert broken, [str(problem) for problem in problems]
        assert {problem.level for problem in broken} == {rule.level}


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_manual_names_its_source(rule: Rule) -> None:
    assert "Source:" in manual_of(rule) or "common practice" in manual_of(rule)


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_manual_begins_with_what_the_rule_wants(rule: Rule) -> None:
    assert first_sentence(rule).endswith(".")
    assert len(first_sentence(rule)) <= 80


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_manual_names_every_setting(rule: Rule) -> None:
    assert all(f"``{name}``" in manual_of(rule) for name in rule.defaults)
