"""Judge a procedure by the rules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.gather import Gathered
from assistant.procedure.problems import Problem
from assistant.procedure.program import Program
from assistant.procedure.rules.allowances import with_allowances
from assistant.procedure.rules.registry import RULES
from assistant.procedure.rules.rule import FileRule, Finding, Rule
from assistant.procedure.rules.settings import Chosen, chosen_by
from assistant.procedure.rules.subject import FileSubject, Means, Subject
from assistant.procedure.rules.valve import lacks

__all__ = ["judge"]

ByFile = Mapping[str, Mapping[str, Chosen]]
"""How each rule is applied to each file."""


def judge(gathered: Gathered, program: Program, means: Means) -> Iterator[Problem]:
    """What the rules find in a procedure and its parts, and what is wrong with allowances.

    Settings are those of the file in which a finding stands; what a rule for the whole procedure
    goes by is set in the main file.

    Args:
        gathered: the files.
        program: the procedure with its parts joined in; of a part, as if it was called.
        means: what rules may use beside the files.

    Raises:
        FileRefused: a file sets a rule to what it cannot be.
    """
    files = {file.place.file: file for file in gathered.files.values()}
    chosen = {name: chosen_by(file.lint, RULES) for name, file in files.items()}
    main = gathered.main.place.file
    subject = Subject(program, () if gathered.main.is_part else tuple(lacks(program)), means)
    found: list[Problem] = []
    for rule in RULES.values():
        if isinstance(rule, FileRule):
            for name, file in files.items():
                settings = chosen[name][rule.name].settings
                found += _weighed(rule, rule.check(FileSubject(file, means), settings), chosen)
        else:
            settings = chosen[main][rule.name].settings
            found += _weighed(rule, rule.check(subject, settings), chosen)
    texts = {file.place.file: gathered.texts[name] for name, file in gathered.files.items()}
    yield from with_allowances(found, texts, RULES)


def _weighed(rule: Rule, findings: Iterator[Finding], chosen: ByFile) -> Iterator[Problem]:
    """The findings as problems of the level that each file gives the rule, if any."""
    for one in findings:
        # What stands in the unwritten caller of a part has no file of its own.
        level = chosen[one.place.file][rule.name].level if one.place.file in chosen else None
        if level is not None:
            yield Problem(one.place, one.message, rule.name, level.value, one.way)
