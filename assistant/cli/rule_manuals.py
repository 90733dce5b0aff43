"""The rules of ``gloveside lint``: the list of them, and the manual of each."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping

from assistant.cli.complaint import Complaint, Exit
from assistant.procedure.fields import nearest
from assistant.procedure.rules.manual import first_sentence, manual_of
from assistant.procedure.rules.registry import RULES
from assistant.procedure.rules.rule import Rule, UnitRule
from assistant.procedure.unit_rules.registry import UNIT_RULES

__all__ = ["listed_rules", "printed_manual"]

_ALL: Mapping[str, Rule | UnitRule] = {**RULES, **UNIT_RULES}
_COLUMNS = 100


def listed_rules() -> Iterator[str]:
    """A line a rule: its name, level and first sentence; first those for procedures."""
    width = max(map(len, _ALL))
    for rule in _ALL.values():
        yield f"{rule.name:{width}}  {rule.level:7}  {first_sentence(rule)}"


def printed_manual(name: str) -> str:
    """The manual of a rule, and its settings where a file sets none.

    Raises:
        Complaint: no rule is called so.
    """
    if name not in _ALL:
        raise Complaint(f"no rule is called '{name}'; {nearest(name, _ALL)}", Exit.BAD_USE)
    rule = _ALL[name]
    settings = {} if isinstance(rule, UnitRule) else rule.defaults
    return "\n\n".join(
        (
            f"{rule.name} ({rule.level})",
            manual_of(rule),
            *(_as_set(key, value) for key, value in settings.items()),
        )
    )


def _as_set(name: str, value: float | tuple[str, ...]) -> str:
    """A setting as it stands in a ``lint:`` block."""
    written = f"{value:g}" if isinstance(value, float) else f"[{', '.join(map(_quoted, value))}]"
    return textwrap.fill(
        f"{name}: {written}", _COLUMNS, subsequent_indent="  ", break_on_hyphens=False
    )


def _quoted(word: str) -> str:
    return f'"{word}"' if "," in word else word
