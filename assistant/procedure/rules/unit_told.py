"""A number is asked for in the unit in which it is taken.

Who hears "How many millimetres?" says millimetres, and is not understood where the step has ``unit:
bar``; who says the bare number has it recorded as bar. So whatever stands after "how many", and a
unit after "in", is that of the step, in one of its words in the phrase book: what is counted is
asked for in pieces, "How many pieces of pipe?". Source: common practice.

After "how many" the unit may stand as the third word at the latest, "How many full turns?". A unit
that stands elsewhere in the prompt ("Two minutes after the start …") is not looked at.

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

Fails::

    - step: torque
      say: Tighten the plug. How many foot pounds does the wrench show?
      ask: number
      unit: newton metres
      least: 10
      most: 90
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


_HOW_MANY = re.compile(r"\bhow many\s+([\w%]+(?:[ -]+[\w%]+){0,3})")
"""What stands after "how many", as far as the last word of a unit may be: "full turns a minute"."""

_NO_NOUN = tuple(
    f"{word} "
    for word in ("are", "is", "were", "was", "do", "did", "does", "have", "has", "of", "in")
)
"""What follows where the unit stands before: "Count the turns. How many are left?"."""


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    book = subject.means.book
    for step in subject.file.steps:
        match step.action:
            case Ask(kind=AskKind.NUMBER, unit=str(name)) if step.say is not None:
                unit = book.unit(name)
                own = () if unit is None else _words(unit)
                asked = list(_asked_for(step.say.plain, own, book))
                if asked and not set(asked) & set(own):
                    message = (
                        f"the prompt asks for {quoted(asked[0])}, and the answer is taken in "
                        f"{name}: say the unit of 'unit:', or change 'unit:'"
                    )
                    yield Finding(step.say.place, message)


def _asked_for(prompt: str, own: tuple[str, ...], book: PhraseBook) -> Iterator[str]:
    """What a prompt asks for: units, or whatever else is to be counted."""
    prompt = prompt.lower()
    units = _units_in(book).findall(prompt)
    yield from units
    own_soon = re.compile(rf"(?:\S+ ){{0,2}}({_either(own)})(?!\w)")
    for found in _HOW_MANY.findall(prompt):
        if found.startswith((*units, *_NO_NOUN)):
            continue
        words = " ".join(found.split())
        following = own_soon.match(words)
        yield following[1] if following else words.split()[0]


def _words(unit: UnitWords) -> tuple[str, ...]:
    return tuple(
        word.lower() for word in (*unit.names, *(phrase.spoken for phrase in unit.phrases))
    )


@cache
def _units_in(book: PhraseBook) -> re.Pattern[str]:
    """Finds the units in which a prompt asks."""
    words = tuple(word for unit in book.units for word in _words(unit))
    return re.compile(rf"\b(?:how many|in)\s+({_either(words)})(?!\w)")


def _either(words: tuple[str, ...]) -> str:
    """The longest first, as "turns a minute"."""
    return "|".join(map(re.escape, sorted(set(words), key=len, reverse=True)))


RULE = FileRule("unit-told", Level.WARNING, _check)
