"""Comments that allow what a rule would find."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.procedure.rules.registry import RULES
from assistant.procedure.rules.rule import is_of_safety
from tests.procedure.rules.samples import problems_in

UNISOLATED = """\
procedure: sample
title: A sample
revision: A
about: A sample.
{lint}
steps:
{above}
  - step: out{behind}
    say: Open the lid and wipe the plate. Say done.{said}
    does: disengage
    ask: done
  - step: end
    say: The end.
    end: job
"""
"""Breaks a rule of writing, `one-action`, and a rule of safety, `isolated-first`."""


def with_comment(above: str = "", behind: str = "", said: str = "", lint: str = "") -> str:
    """The file with a comment above its step, behind the step's name or behind what is said."""
    return UNISOLATED.format(above=above, behind=behind, said=said, lint=lint)


def problems(folder: Path, **where: str) -> list[str]:
    text = with_comment(**where)
    told = problems_in(text, folder)
    broken = ("allow", "isolated-first", "one-action")
    return [f"{one.level} {one.rule}" for one in told if one.rule in broken]


BROKEN = ["error isolated-first", "warning one-action"]


def test_what_is_not_allowed_is_told(tmp_path: Path) -> None:
    assert problems(tmp_path) == BROKEN


@pytest.mark.parametrize(
    "where",
    [
        {"above": "  # allow one-action: the plate is in the lid"},
        {"above": "  # allow one-action: the plate is in the lid\n  # with a remark below"},
        {"said": "  # allow one-action: the plate is in the lid"},
    ],
)
def test_an_allowance_with_a_reason_allows(tmp_path: Path, where: dict[str, str]) -> None:
    assert problems(tmp_path, **where) == ["error isolated-first"]


@pytest.mark.parametrize(
    "where",
    [
        {"above": "  # allow isolated-first: a bench valve"},
        {"behind": "  # allow isolated-first: a bench valve"},
    ],
)
def test_a_rule_of_safety_cannot_be_allowed_away(tmp_path: Path, where: dict[str, str]) -> None:
    assert sorted(problems(tmp_path, **where)) == sorted(["error allow", *BROKEN])


OF_SAFETY = [rule.name for rule in RULES.values() if is_of_safety(rule)]


@pytest.mark.parametrize("rule", OF_SAFETY)
def test_who_allows_a_break_of_a_rule_of_safety_is_told_so(tmp_path: Path, rule: str) -> None:
    text = with_comment(above=f"  # allow {rule}: we know it")
    (told,) = (one for one in problems_in(text, tmp_path) if one.rule == "allow")
    assert (told.place.line, told.level) == (7, "error")
    assert f"'{rule}' is a rule of safety" in told.message


@pytest.mark.parametrize("comment", ["# allow one-action", "# allow one-action:  "])
def test_an_allowance_without_a_reason_allows_nothing(tmp_path: Path, comment: str) -> None:
    assert problems(tmp_path, above=f"  {comment}") == ["error allow", *BROKEN]


def test_an_allowance_for_no_rule_is_told(tmp_path: Path) -> None:
    told = problems(tmp_path, above="  # allow one-actoin: the plate is in the lid")
    assert told == ["error allow", *BROKEN]


def test_a_sign_within_a_text_is_no_comment(tmp_path: Path) -> None:
    hidden = "about: 'Not # allow isolated-first: at all.'"
    text = with_comment().replace("about: A sample.", hidden)
    told = {one.rule for one in problems_in(text, tmp_path)}
    assert "isolated-first" in told and "allow" not in told


@pytest.mark.parametrize(
    ("block", "essence"),
    [
        ("{isolated-frist: off}", "did you mean 'isolated-first'?"),
        ("{isolated-first: fatal}", "a rule is set to no 'fatal'"),
        ("{isolated-first: off}", "remove the line"),
        ("{isolated-first: {level: warning}}", "remove the line"),
        ("{isolated-first: {words: [a]}}", "has no field 'words'"),
        ("{speed-limit: {says: {a: b}}}", "must be a text"),
        ("isolated-first", "must be made of lines"),
    ],
)
def test_a_lint_block_that_cannot_be_is_refused(tmp_path: Path, block: str, essence: str) -> None:
    text = with_comment(lint=f"lint: {block}")
    (problem,) = problems_in(text, tmp_path)
    assert (problem.place.line, problem.level) == (5, "error")
    assert essence in problem.message
