"""A number is asked for in the unit in which it is taken.

Who hears "How many millimetres?" says millimetres, and is not understood where the step has ``unit:
bar``; who says the bare number has it recorded as bar. So a unit after "how many" or "in" is that
of the step, in one of its words in the phrase book. Source: common practice.

A unit that stands elsewhere in the prompt ("Two minutes after the start …") is not looked at.

Passes::

    - step: pressure
      say: Two minutes after the start, read the gauge. How many bar?
      ask: number
      unit: bar
      least: 0
      most: 16

Fails::

    - step: pressure
      say: Two minutes after the start, read the gauge. How many millimetres?
      ask: number
      unit: bar
      least: 0
      most: 16
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from assistant.language.phrase_book import PhraseBook, UnitWords
from assistant.procedure.fields import quoted
from assistant.procedure.model import Ask, AskKind
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    book = subject.means.book
    for step in subject.file.steps:
        match step.action:
            case Ask(kind=AskKind.NUMBER, unit=str(name)) if step.say is not None:
                asked = [found.lower() for found in _asked_in(book).findall(step.say.plain)]
                unit = book.unit(name)
                own = () if unit is None else _words(unit)
                if asked and not set(asked) & set(own):
                    message = (
                        f"the prompt asks for {quoted(asked[0])}, and the answer is taken in "
                        f"{name}: say the unit of 'unit:', or change 'unit:'"
                    )
                    yield Finding(step.say.place, message)


def _words(unit: UnitWords) -> tuple[str, ...]:
    return (*unit.names, *(phrase.spoken for phrase in unit.phrases))


@cache
def _asked_in(book: PhraseBook) -> re.Pattern[str]:
    """Finds the units that a prompt asks for; the longest first, as "turns a minute"."""
    words = sorted({word for unit in book.units for word in _words(unit)}, key=len, reverse=True)
    either = "|".join(map(re.escape, words))
    return re.compile(rf"\b(?:how many|in)\s+({either})(?!\w)", re.IGNORECASE)


RULE = FileRule("unit-told", Level.WARNING, _check)
