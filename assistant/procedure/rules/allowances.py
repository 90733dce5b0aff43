"""Comments that allow what a rule would find, with the reason.

``# allow one-action: the two are one motion`` at the end of a line allows it on that line; on a
line of its own, on the next one, and above ``- step:`` in the whole step. An allowance without a
reason, for a rule that is not known, or of which nothing came, is a problem itself. So is one for a
rule of safety, and it allows nothing: a comment is read by nobody who has a hand in the housing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from assistant.procedure.comments import Comment, comments_in
from assistant.procedure.fields import nearest, quoted
from assistant.procedure.problems import Place, Problem
from assistant.procedure.rules.rule import ProgramRule, Rule, UnitRule, is_of_safety

__all__ = ["Allowance", "allowances_in", "with_allowances"]

_ALLOW = re.compile(r"#\s*allow\s+(?P<rule>[\w-]+)\s*(?::\s*(?P<reason>.*\S)?)?\s*$", re.MULTILINE)
_STEP = re.compile(r"(?P<indent>\s*)- step\s*:")


@dataclass(frozen=True, slots=True)
class Allowance:
    """A rule that need not be kept on some lines.

    Args:
        rule: its name.
        reason: why not; empty where none is given.
        place: of the comment.
        lines: the lines for which it holds, in figures from 1.
    """

    rule: str
    reason: str
    place: Place
    lines: range


def allowances_in(text: str, file: str) -> tuple[Allowance, ...]:
    """The allowances in a file that can be read."""
    if _ALLOW.search(text) is None:
        return ()  # most files have none, and finding all comments means parsing them again
    lines = text.splitlines()
    return tuple(
        Allowance(found["rule"], found["reason"] or "", comment.place, _lines_of(comment, lines))
        for comment in comments_in(text, file)
        if (found := _ALLOW.match(comment.text))
    )


def _lines_of(comment: Comment, lines: list[str]) -> range:
    here = comment.place.line
    if lines[here - 1][: comment.place.column - 1].strip():
        return range(here, here + 1)
    following = here + 1
    while following <= len(lines) and lines[following - 1].lstrip().startswith("#"):
        following += 1
    begun = _STEP.match(lines[following - 1]) if following <= len(lines) else None
    end = following + 1
    while begun and end <= len(lines) and not _leaves(lines[end - 1], len(begun["indent"])):
        end += 1
    return range(following, end)


def _leaves(line: str, indent: int) -> bool:
    """Whether a line belongs no more to the step that was begun with this indent."""
    written = line.lstrip()
    return bool(written) and not written.startswith("#") and len(line) - len(written) <= indent


def with_allowances(
    found: Iterable[Problem],
    texts: Mapping[str, str],
    rules: Mapping[str, Rule] | Mapping[str, UnitRule],
) -> Iterator[Problem]:
    """What was found and is not allowed, each once, and then what is wrong with allowances.

    Args:
        found: what the rules found.
        texts: the files in which it was looked for, by the names that places have.
        rules: every rule by its name.
    """
    found = list(dict.fromkeys(found))
    allowances = [one for file, text in texts.items() for one in allowances_in(text, file)]
    valid = [one for one in allowances if one.rule in rules and not is_of_safety(rules[one.rule])]
    for problem in found:
        if not any(_covers(allowance, problem) for allowance in valid):
            yield problem
    for allowance in allowances:
        if message := _fault_of(allowance, rules, found):
            yield Problem(allowance.place, message, "allow")


def _covers(allowance: Allowance, problem: Problem) -> bool:
    place = problem.place
    return (
        bool(allowance.reason)
        and (allowance.rule, allowance.place.file) == (problem.rule, place.file)
        and place.line in allowance.lines
    )


def _fault_of(
    allowance: Allowance,
    rules: Mapping[str, Rule] | Mapping[str, UnitRule],
    found: list[Problem],
) -> str:
    """What is wrong with an allowance; empty where nothing is."""
    if allowance.rule not in rules:
        hint = nearest(allowance.rule, rules)
        return f"no rule is called {quoted(allowance.rule)}; {hint}"
    if is_of_safety(rules[allowance.rule]):
        return (
            f"'{allowance.rule}' is a rule of safety, which no comment allows to be broken: "
            "remove the comment, and mend what the rule finds"
        )
    if not allowance.reason:
        return f"say why: '# allow {allowance.rule}: reason'"
    if _is_of_files(rules[allowance.rule]) and not any(_covers(allowance, one) for one in found):
        return f"nothing here breaks '{allowance.rule}': remove the comment"
    return ""


def _is_of_files(rule: Rule | UnitRule) -> bool:
    """Whether a rule finds the same in a file whatever calls it."""
    return not isinstance(rule, ProgramRule)
