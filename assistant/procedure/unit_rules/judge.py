"""Judge a unit sheet by the rules."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.problems import Problem
from assistant.procedure.rules.allowances import with_allowances
from assistant.procedure.unit_rules.registry import UNIT_RULES
from assistant.procedure.unit_sheet import read_located_unit

__all__ = ["judge_sheet"]


def judge_sheet(text: str, file: str) -> Iterator[Problem]:
    """What the rules find in a sheet, and what is wrong with its allowances.

    Args:
        text: the sheet.
        file: its name, for messages.

    Raises:
        FileRefused: it is no sheet that can be used.
    """
    sheet = read_located_unit(text, file)
    found = [
        Problem(one.place, one.message, rule.name, rule.level.value)
        for rule in UNIT_RULES.values()
        for one in rule.check(sheet)
    ]
    yield from with_allowances(found, {file: text}, UNIT_RULES)
