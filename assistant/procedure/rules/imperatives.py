"""Which instructions a text gives: its clauses that begin with a verb in the imperative.

A closed list of verbs (``verbs.yaml``) and no grammar of English: what is missed by it can be added
to the list. *Never turn it*, *do not turn it* and *turn no shaft* tell to leave something alone and
are no instructions to do something.
"""

from __future__ import annotations

import enum
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

import yaml

from assistant.procedure.rules.sentences import Sentence

__all__ = ["ACTS", "Imperative", "Sort", "imperatives_of"]


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
        is_first: whether it begins the sentence, or follows what stands ahead of the sentence's
            first comma.
    """

    verb: str
    sort: Sort
    is_first: bool


def _verbs() -> Mapping[str, Sort]:
    listed = yaml.safe_load(files(__package__).joinpath("verbs.yaml").read_text("utf-8"))
    return MappingProxyType({verb: Sort(sort) for sort in Sort for verb in listed[sort]})


_VERBS = _verbs()

ACTS = tuple(verb for verb, sort in _VERBS.items() if sort is Sort.ACT)
"""The verbs that are acts."""

_LEAD = re.compile(
    r"(?:(?:then|now|next|first|second|third|finally|again|once more|also|please|immediately|"
    r"checker|technician|\w+ly),?\s+)+",
    re.IGNORECASE,
)
"""What may stand before the verb."""

_WORD = re.compile(r"[\w-]+")
_NOT = re.compile(r"[\w-]+\s+(?:no|not|nothing|nobody|neither)\b")
_DO_NOT = re.compile(r"(?:do not|don't|never)\b", re.IGNORECASE)

_OBJECT = re.compile(
    r"[\w-]+(?:$|\s+(?:\{|\d|(?:the|a|an|it|its|them|him|her|this|that|these|those|each|every|all|"
    r"both|any|one|two|your|his|their|who|what|which|whether|how|to|toward|towards|into|onto|out|"
    r"in|off|on|over|up|down|back|away|until|till|at|for|from|by|with|again|slowly|gently|clear|"
    r"closed|open|mark|done|none|yes|no|correct|contact|contacts|rotor|everybody|everyone|anew)\b))",
    re.IGNORECASE,
)
"""A verb with something that can follow one, so that "open and closed lamps" is no instruction."""


@lru_cache(maxsize=4096)
def imperatives_of(sentence: Sentence) -> tuple[Imperative, ...]:
    """The instructions that a sentence gives; none where it asks.

    >>> from assistant.procedure.rules.sentences import sentences_of
    >>> [one.verb for one in imperatives_of(sentences_of("Then lift it, and do not turn it.")[0])]
    ['lift']
    """
    return () if sentence.is_question else tuple(_found(sentence))


def _found(sentence: Sentence) -> Iterator[Imperative]:
    for index, clause in enumerate(sentence.clauses):
        bare = _LEAD.sub("", clause, count=1) if _LEAD.match(clause) else clause
        word = _WORD.match(bare)
        verb = word[0].lower() if word else ""
        if verb not in _VERBS or _NOT.match(bare) or _DO_NOT.match(bare):
            continue
        if index == 0 or _OBJECT.match(bare):
            yield Imperative(verb, _VERBS[verb], is_first=index == 0)
