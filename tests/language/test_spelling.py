"""Letters and digits, one at a time."""

from __future__ import annotations

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.answers import AskSpelling, grammar
from assistant.language.english import english
from assistant.language.meaning import Meaning, Spelling
from assistant.language.speaking import spell
from assistant.language.spelling import spelling_of

# ICAO Annex 10 volume II, figure 5-1, from memory; and its digits 5 and 9, section 5.2.1.4.
ALPHABET = [
    *("Alfa", "Bravo", "Charlie", "Delta", "Echo", "Foxtrot", "Golf", "Hotel", "India"),
    *("Juliett", "Kilo", "Lima", "Mike", "November", "Oscar", "Papa", "Quebec", "Romeo"),
    *("Sierra", "Tango", "Uniform", "Victor", "Whiskey", "X-ray", "Yankee", "Zulu"),
]


def understood(text: str) -> Meaning | None:
    return grammar(AskSpelling(), english()).parse(text)


@pytest.mark.parametrize("word", ALPHABET)
def test_the_alphabet(word: str) -> None:
    assert understood(word) == Spelling(word[0].upper())


@pytest.mark.parametrize(
    ("text", "spelled"),
    [
        ("kilo foxtrot zero seven", "KF07"),
        ("Kilo Foxtrot 07", "KF07"),
        ("kilo foxtrot 0 7", "KF07"),
        ("kilo foxtrot oh seven", "KF07"),
        ("kilo foxtrot dash zero seven", "KF07"),
        ("kilo foxtrot hyphen one two", "KF12"),
        ("kilo foxtrot 12", "KF12"),
        ("KF-07", "KF07"),
        ("kf07", "KF07"),
        ("K F 0 7", "KF07"),
        ("07-12", "0712"),
        ("fife niner", "59"),
        ("alpha juliet", "AJ"),
        ("x ray", "X"),
        ("echo", "E"),
        ("one two three four five six seven eight nine zero one two", "123456789012"),
    ],
)
def test_phrases(text: str, spelled: str) -> None:
    assert understood(text) == Spelling(spelled)


@pytest.mark.parametrize(
    "text",
    [
        "dash",
        "dash kilo",
        "kilo dash",
        "kilo dash dash lima",
        "kilo foxtrot twelve",
        "no",
        "yes",
        "kf",
        "kf07x9 k!?é",
        "one two three four five six seven eight nine zero one two three",
    ],
)
def test_what_is_not_understood(text: str) -> None:
    assert understood(text) is None


@given(st.text(string.ascii_uppercase + string.digits, min_size=1, max_size=12))
def test_what_is_spelled_is_understood(text: str) -> None:
    assert understood(spell(text)) == Spelling(text)


@given(st.text(string.ascii_uppercase + string.digits, min_size=1))
def test_what_a_text_spells(text: str) -> None:
    assert spelling_of(spell(text), english()) == text


@pytest.mark.parametrize(
    ("text", "spells"),
    [
        ("kilo foxtrot twelve", "KF12"),
        ("Kilo Foxtrot, dash, seventy-nine", "KF79"),
        ("K F 0 7", "KF07"),
        ("alpha to bravo", None),
        ("the gate", None),
        ("pump kilo foxtrot zero seven", None),
    ],
)
def test_what_is_written_of_a_tag_in_other_ways(text: str, spells: str | None) -> None:
    assert spelling_of(text, english()) == spells
