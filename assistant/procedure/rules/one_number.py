"""Numbers one at a time.

Two numbers in one breath are mixed up: "back two turns, then on four". A sentence gives one number,
and a prompt asks for one. Source: common practice; NASA CR-177549 asks for one item, one answer.

A number counts where what it counts stands behind it: a unit, or a noun with a plural s ("four
bolts"), as do figures and values that are numbers. What only names something does not count ("rotor
two", "contacts one and five"), nor does the first end of a range ("four to six turns"). So two
numbers without their units are not seen.

Passes::

    - step: crank
      say: Crank back two turns. Say done.
      ask: done

Fails::

    - step: crank
      say: Crank back two turns after twelve seconds. Say done.
      ask: done
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from assistant.language.phrase_book import PhraseBook
from assistant.procedure.model import Reference
from assistant.procedure.names import kind_of, kinds_of
from assistant.procedure.program import Node
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.sentences import sentences_of
from assistant.procedure.rules.spoken import each_once, spoken_at
from assistant.procedure.rules.subject import Subject
from assistant.procedure.values import FIELDS, Kind

__all__ = ["RULE"]

_BRACED = re.compile(r"\{([^{}]*)\}")
_ASKED = re.compile(r"\bhow (?:many|much|far|long|fast)\b|\b(?:what|which) number\b", re.IGNORECASE)
_FIGURES = r"\d+(?:\.\d+)?"
_NAMES = (
    "contact|rotor|lamp|phase|step|valve|pump|unit|button|switch|terminal|wire|shaft|gear|number|"
    "item|page|line|position|stage|drawing|revision|section|bolt|key|fuse|breaker|relay"
)
_NO_NOUNS = (
    "is|was|has|does|as|its|this|plus|minus|times|stands|stays|goes|opens|closes|makes|breaks"
)
_FRACTION = r"(?: and (?:a |one )?(?:half|quarter)| and three quarters)?"


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    kinds = kinds_of(subject.program)
    numbers = _numbers(subject.means.book)
    for node in each_once(subject.program):
        for spoken in spoken_at(node.step):
            given = {
                str(one)
                for one in spoken.template.references
                if _kind(node, one, kinds) in (Kind.NUMBER, Kind.TRIP)
            }
            message = ""
            if any(_count(one.text, given, numbers) > 1 for one in sentences_of(spoken.text)):
                message = "two numbers in one sentence are mixed up: give each in a step of its own"
            if len(_ASKED.findall(spoken.text)) > 1:
                message = "two numbers are asked for at once: ask for each in a step of its own"
            if message:
                yield Finding(spoken.template.place, message)


def _kind(node: Node, reference: Reference, kinds: Mapping[str, Kind]) -> Kind | None:
    kind, fields = kind_of(node, reference.path, kinds)
    for name in fields:
        kind = FIELDS[kind][name].kind if kind else None
    return kind


@dataclass(frozen=True, slots=True)
class _Numbers:
    """How numbers are found in a sentence.

    Args:
        names: of things that have a number for a name.
        quantities: numbers with what they count.
    """

    names: re.Pattern[str]
    quantities: re.Pattern[str]


@cache
def _numbers(book: PhraseBook) -> _Numbers:
    spoken = " ".join(phrases[0].spoken for phrases in book.numbers)
    words = {*spoken.split(), "hundred", "thousand", "half"}
    units = {phrase.spoken for unit in book.units for phrase in (*unit.one, *unit.many)}
    word = f"(?:{_either(words)}|{_FIGURES})"
    number = rf"\b{word}(?:(?: and| point)? {word})*"
    what = rf"(?:%|(?:{_either(units)})\b|(?!(?:{_NO_NOUNS})\b)[a-z]+s\b)"
    listed = rf"{number}(?:(?:, and|, or| and| or|,) {number})*"
    return _Numbers(
        re.compile(rf"\b(?:{_NAMES})s? {listed}", re.IGNORECASE),
        re.compile(rf"{number}{_FRACTION}(?: a| an)? ?{what}", re.IGNORECASE),
    )


def _either(words: Iterable[str]) -> str:
    return "|".join(sorted(map(re.escape, words), key=len, reverse=True))


def _count(sentence: str, given: set[str], numbers: _Numbers) -> int:
    named = sum(found[1].strip() in given for found in _BRACED.finditer(sentence))
    bare = numbers.names.sub("", _BRACED.sub("", sentence))
    return named + len(numbers.quantities.findall(bare))


RULE = ProgramRule("one-number", Level.WARNING, _check)
