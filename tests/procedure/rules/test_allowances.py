"""Comments that allow what a rule would find."""

from __future__ import annotations

from pathlib import Path

import pytest

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
    say: Press the setting rod and turn it. Say done.
    does: disengage
    ask: done
  - step: end
    say: The end.
    end: job
"""


def problems(folder: Path, lint: str = "", above: str = "", behind: str = "") -> list[str]:
    text = UNISOLATED.format(lint=lint, above=above, behind=behind)
    told = problems_in(text, folder)
    return [f"{one.level} {one.rule}" for one in told if one.rule in ("allow", "isolated-first")]


def test_what_is_not_allowed_is_told(tmp_path: Path) -> None:
    assert problems(tmp_path) == ["error isolated-first"]


@pytest.mark.parametrize(
    "where",
    [
        {"above": "  # allow isolated-first: this bench valve has no energy"},
        {"above": "  # allow isolated-first: a bench valve\n  # with a remark below"},
        {"behind": "  # allow isolated-first: this bench valve has no energy"},
    ],
)
def test_an_allowance_with_a_reason_allows(tmp_path: Path, where: dict[str, str]) -> None:
    assert problems(tmp_path, **where) == []


@pytest.mark.parametrize("comment", ["# allow isolated-first", "# allow isolated-first:  "])
def test_an_allowance_without_a_reason_allows_nothing(tmp_path: Path, comment: str) -> None:
    assert problems(tmp_path, above=f"  {comment}") == ["error allow", "error isolated-first"]


def test_an_allowance_for_no_rule_is_told(tmp_path: Path) -> None:
    told = problems(tmp_path, above="  # allow isolated-frist: a bench valve")
    assert told == ["error allow", "error isolated-first"]


def test_a_sign_within_a_text_is_no_comment(tmp_path: Path) -> None:
    hidden = "about: 'Not # allow isolated-first: at all.'"
    text = UNISOLATED.format(lint="", above="", behind="").replace("about: A sample.", hidden)
    told = {one.rule for one in problems_in(text, tmp_path)}
    assert "isolated-first" in told and "allow" not in told


@pytest.mark.parametrize(
    ("block", "essence"),
    [
        ("{isolated-frist: off}", "did you mean 'isolated-first'?"),
        ("{isolated-first: fatal}", "a rule is set to no 'fatal'"),
        ("{isolated-first: off}", "allow a single step"),
        ("{isolated-first: {level: warning}}", "allow a single step"),
        ("{isolated-first: {words: [a]}}", "has no field 'words'"),
        ("{speed-limit: {says: {a: b}}}", "must be a text"),
        ("isolated-first", "must be made of lines"),
    ],
)
def test_a_lint_block_that_cannot_be_is_refused(tmp_path: Path, block: str, essence: str) -> None:
    text = UNISOLATED.format(lint=f"lint: {block}", above="", behind="")
    (problem,) = problems_in(text, tmp_path)
    assert (problem.place.line, problem.level) == (5, "error")
    assert essence in problem.message
