"""What a file sets for the rules: its ``lint:`` block.

::

    lint:
      vague-words: {level: error, words: [approximately, as required]}
      one-action: {also-words: [deburr]}
      spoken-length: off

A list takes the place of the rule's own; one under its name with ``also-`` before it is added.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assistant.procedure.acts import items_of
from assistant.procedure.fields import Fields, as_number, as_text, nearest, quoted
from assistant.procedure.located import Located, ScalarNode
from assistant.procedure.problems import FileRefused, Problem, refuse
from assistant.procedure.rules.rule import Level, Rule, Setting, Settings, is_of_safety

__all__ = ["OFF", "Chosen", "chosen_by"]

OFF = "off"
_ALSO = "also-"
"""Before the name of a list: what is added to it."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """How a rule is applied to a file.

    Args:
        level: how much its findings weigh; None where it is off.
        settings: its settings.
    """

    level: Level | None
    settings: Settings


def chosen_by(block: Located | None, rules: Mapping[str, Rule]) -> Mapping[str, Chosen]:
    """How each rule is applied to a file.

    Args:
        block: the file's ``lint:`` block, if it has one.
        rules: every rule by its name.

    Raises:
        FileRefused: where it names a rule or setting that is not known, or sets it to what it
            cannot be.
    """
    chosen = {name: Chosen(rule.level, Settings(rule.defaults)) for name, rule in rules.items()}
    problems: list[Problem] = []
    for key, value in () if block is None else Fields(block, "'lint'").entries():
        try:
            chosen[_known(key, rules).name] = _chosen(_known(key, rules), value)
        except FileRefused as refused:
            problems.extend(refused.problems)
    if problems:
        raise FileRefused(problems)
    return chosen


def _known(key: ScalarNode, rules: Mapping[str, Rule]) -> Rule:
    if key.text not in rules:
        hint = nearest(key.text, rules)
        refuse(key.place, f"no rule is called {quoted(key.text)}; {hint}", "lint")
    return rules[key.text]


def _chosen(rule: Rule, value: Located) -> Chosen:
    if isinstance(value, ScalarNode):
        return Chosen(_level(rule, value), Settings(rule.defaults))
    fields = Fields(value, f"the rule '{rule.name}'")
    given = fields.take("level")
    settings = {name: _setting(fields, name, default) for name, default in rule.defaults.items()}
    fields.finish()
    return Chosen(rule.level if given is None else _level(rule, given), Settings(settings))


def _level(rule: Rule, value: Located) -> Level | None:
    text = as_text(value, "a rule's level")
    known = [OFF, *(level.value for level in Level)]
    if text not in known:
        hint = nearest(text, known)
        refuse(value.place, f"a rule is set to no {quoted(text)}; {hint}", "lint")
    if is_of_safety(rule) and text != Level.ERROR:
        message = (
            f"'{rule.name}' is a rule of safety, which nothing turns off: remove the line, and "
            "mend what the rule finds"
        )
        refuse(value.place, message, "lint")
    return None if text == OFF else Level(text)


def _setting(fields: Fields, name: str, default: Setting) -> Setting:
    given = fields.take(name)
    if isinstance(default, float):
        return default if given is None else as_number(given, f"'{name}'")
    more = fields.take(f"{_ALSO}{name}")
    return (
        *(default if given is None else _words(given, name)),
        *(() if more is None else _words(more, name)),
    )


def _words(value: Located, name: str) -> tuple[str, ...]:
    return tuple(as_text(item, f"a word of '{name}'") for item in items_of(value))
