"""Numbers one at a time.

Two numbers in one breath are mixed up: "back two turns, then on four". A sentence gives one number,
and a prompt asks for one. Source: common practice; NASA CR-177549 asks for one item, one answer.

A list of contacts is no number, and "one" counts only before a unit ("one turn").

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
from collections.abc import Iterator, Mapping

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
_FIGURES = re.compile(r"(?<![\w-])\d+(?:\.\d+)?(?![\w-])")


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    kinds = kinds_of(subject.program)
    words = _number(subject.means.book)
    for node in each_once(subject.program):
        for spoken in spoken_at(node.step):
            given = {
                str(one)
                for one in spoken.template.references
                if _kind(node, one, kinds) in (Kind.NUMBER, Kind.TRIP)
            }
            message = ""
            if any(_count(one.text, given, words) > 1 for one in sentences_of(spoken.text)):
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


def _number(book: PhraseBook) -> re.Pattern[str]:
    """A number in words; "one" only where a unit or a fraction follows."""
    several = [phrases[0].spoken for phrases in book.numbers[2:]] + ["hundred", "thousand"]
    units = {phrase.spoken for unit in book.units for phrase in (*unit.one, *unit.many)}
    word = "|".join(sorted(map(re.escape, several), key=len, reverse=True))
    unit = "|".join(sorted(map(re.escape, units), key=len, reverse=True))
    one = rf"one (?=(?:and a (?:half|quarter) )?(?:{unit}|hundred|thousand|point)\b)"
    more = rf"(?:(?: and| point)? (?:{word}|one)\b)*"
    return re.compile(rf"\b(?:(?:{word})\b{more}|{one}(?:hundred|thousand)?{more})", re.IGNORECASE)


_LIST = re.compile(r"\bcontacts? [\w, ]+", re.IGNORECASE)


def _count(sentence: str, given: set[str], words: re.Pattern[str]) -> int:
    named = sum(found[1].strip() in given for found in _BRACED.finditer(sentence))
    bare = _LIST.sub("", _BRACED.sub("", sentence))
    return named + len(_FIGURES.findall(bare)) + len(words.findall(bare))


RULE = ProgramRule("one-number", Level.WARNING, _check)
