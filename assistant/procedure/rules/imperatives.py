"""Which instructions a text gives: its clauses that begin with a verb in the imperative.

A list of verbs (``verbs.yaml``) and no grammar of English. What it does not know is taken for an
instruction only where a sentence begins with it and an article follows ("Deburr the edge"). Within
a sentence a verb counts only with something behind it that no noun would have, so "the seal, screw
and wire" are no instructions; nor are "open" in "lift it and open" and "seal in" in "and seal in
the plug". *Never turn it*, *do not turn it* and *turn no shaft* tell to leave something alone and
are no instructions to do something.
"""

from __future__ import annotations

import enum
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

import yaml

from assistant.procedure.rules.sentences import Sentence

__all__ = ["ACTS", "Imperative", "Sort", "first_sort", "imperatives_of"]


class Sort(enum.StrEnum):
    """What a verb has somebody do."""

    ACT = "acts"
    OBSERVE = "observations"
    SAY = "sayings"


@dataclass(frozen=True, slots=True)
class Imperative:
    """An instruction.

    Args:
        verb: as it stands in the list.
        sort: what it has somebody do.
        rest: what follows the verb in its clause.
        is_certain: whether that follows no noun, as "valves" follows one in "block valves".
    """

    verb: str
    sort: Sort
    rest: str
    is_certain: bool


_LISTED = yaml.safe_load(files(__package__).joinpath("verbs.yaml").read_text("utf-8"))

_VERBS: Mapping[str, Sort] = MappingProxyType(
    {verb: sort for sort in Sort for verb in _LISTED[sort.value]}
)

_NO_VERBS = frozenset(_LISTED["no-verbs"])

ACTS = tuple(verb for verb, sort in _VERBS.items() if sort is Sort.ACT)
"""The verbs that are acts."""

_LEAD = re.compile(
    r"(?:(?:then|and|now|next|first|second|third|finally|again|once more|also|please|immediately|"
    r"checker|technician|(?!(?:ap|sup|re|com|multi)p?ly\b)\w+ly),?\s+)+",
    re.IGNORECASE,
)
"""What may stand before the verb."""

_WORD = re.compile(r"[\w-]+")
_NOT = re.compile(r"[\w-]+\s+(?:no|not|nothing|nobody|neither)\b")
_DO_NOT = re.compile(r"(?:do not|don't|never)\b", re.IGNORECASE)

_ARTICLE = r"\{|(?:the|a|an|it|its|them|this|that|these|those|each|every|all|both|any|your)\b"
_THING = re.compile(rf"[\w-]+\s+(?:{_ARTICLE})", re.IGNORECASE)

_OBJECT = re.compile(
    rf"[\w-]+\s+(?:{_ARTICLE}|\d|(?:him|her|one|two|three|four|his|their|who|what|which|whether|"
    r"how|to|toward|towards|into|onto|out|off|over|up|down|back|away|until|till|again|slowly|"
    r"gently|clear|closed|open|mark|done|none|yes|no|correct|everybody|everyone|anew)\b)",
    re.IGNORECASE,
)
"""A verb with something that can follow one and no noun."""

_TELLS = re.compile(
    r"[\w-]+(?:\s+[\w-]+)?\s+(?:is|are|was|were|has|can|may|must|will|could|should|would)\b",
    re.IGNORECASE,
)
"""A noun of which something is told: "lift points are marked red"."""


@lru_cache(maxsize=4096)
def imperatives_of(
    sentence: Sentence, acts: frozenset[str] = frozenset(ACTS)
) -> tuple[Imperative, ...]:
    """The instructions that a sentence gives; none where it asks.

    Args:
        sentence: the sentence.
        acts: the verbs that count as acts; what is observed and said is known anyhow.

    >>> from assistant.procedure.rules.sentences import sentences_of
    >>> [one.verb for one in imperatives_of(sentences_of("Then lift it, and do not turn it.")[0])]
    ['lift']
    """
    if sentence.is_question:
        return ()
    found = (_in_clause(clause, index, acts) for index, clause in enumerate(sentence.clauses))
    return tuple(one for one in found if one is not None)


def first_sort(sentence: Sentence) -> Sort | None:
    """What the verb with which a sentence begins has somebody do; None where it does not instruct.

    What stands ahead of the first comma to say when or where does not count.
    """
    if sentence.is_question or not sentence.clauses:
        return None
    first = _in_clause(sentence.clauses[0], 0, frozenset(ACTS))
    if first is not None:
        return first.sort
    bare = _bare(sentence.clauses[0])
    word = _WORD.match(bare)
    is_unknown = word is not None and word[0].lower() not in {*_NO_VERBS, *_VERBS}
    return Sort.ACT if is_unknown and _THING.match(bare) else None


def _in_clause(clause: str, index: int, acts: frozenset[str]) -> Imperative | None:
    bare = _bare(clause)
    word = _WORD.match(bare)
    verb = word[0].lower() if word else ""
    sort = Sort.ACT if verb in acts else _VERBS.get(verb)
    if sort is None or _NOT.match(bare) or _DO_NOT.match(bare):
        return None
    is_certain = _OBJECT.match(bare) is not None
    if not is_certain and (index > 0 or _TELLS.match(bare)):
        return None
    return Imperative(verb, sort, bare[len(verb) :].strip(), is_certain)


def _bare(clause: str) -> str:
    """A clause without what may stand before its verb."""
    return _LEAD.sub("", clause, count=1) if _LEAD.match(clause) else clause
