"""The benchmark of words counts what it says it counts, and says what it means to say."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.confusions import Confusion
from tests.bench.phone_fit import Pair, pairs, rank_correlation, told_apart
from tests.bench.word_places import RIVALRIES, Rivalry, Way, book_with, places
from tests.bench.words import TALK, Heard, confusions, rival_table, sign_test, write_confusions

DICTIONARY = {"yes": [["Y", "EH1", "S"]], "yet": [["Y", "EH1", "T"]], "no": [["N", "OW1"]]}


def heard(
    said: str, found: str, voice: str = "a", place: str = "p", condition: str = "clean"
) -> Heard:
    return Heard(place, said, (0, voice, 0), condition, found, said == found, believed=True)


def test_everything_that_is_said_means_something_where_it_is_said() -> None:
    for place in places():
        assert [text for text in place.texts if place.grammar.parse(text) is None] == []


@pytest.mark.parametrize("rivalry", RIVALRIES, ids=lambda rivalry: rivalry.name)
def test_rival_ways_are_compared_word_by_word(rivalry: Rivalry) -> None:
    lengths = {len(way.said) for way in rivalry.ways}
    assert len(lengths) == 1
    for way in rivalry.ways:
        assert [text for under, text in way.said if under.parse(text) is None] == []


def test_a_book_with_another_word_has_lost_the_first() -> None:
    book = book_with({("states", "closed"): ["shut"]})
    assert {phrase.spoken for said in book.states.values() for phrase in said} == {"open", "shut"}


def test_confusions_are_counted_for_each_word_and_condition() -> None:
    three = [heard("yes", "yes"), heard("yes", "no", "b"), heard("yes", "yes", "c")]
    assert confusions([*three, heard("yes", "yes", condition="pink")]) == [
        ("p", "yes", "yes", "yes", "clean", 2, 3),
        ("p", "yes", "no", "no", "clean", 1, 3),
        ("p", "yes", "yes", "yes", "pink", 1, 1),
    ]


def test_confusions_are_written_under_what_they_were_measured_on(tmp_path: Path) -> None:
    write_confusions(tmp_path / "c.csv", confusions([heard("yes", "yes")]), "one sound")
    assert (tmp_path / "c.csv").read_text("utf-8").splitlines() == [
        "# one sound",
        "place,said,heard,right,condition,times,of",
        "p,yes,yes,yes,clean,1,1",
    ]


# Two-sided sign test, from the binomial distribution: 2 * (1 + 5) / 2^5, 2 / 2^5, and never over 1.
@pytest.mark.parametrize(("one", "other", "p"), [(1, 4, 0.375), (0, 5, 0.0625), (3, 3, 1.0)])
def test_the_sign_test(one: int, other: int, p: float) -> None:
    assert sign_test(one, other) == sign_test(other, one) == pytest.approx(p)


def test_ways_are_compared_in_pairs_of_one_voice_and_noise() -> None:
    first, second = Way("yes", ()), Way("aye", ())
    said = [
        heard("yes", "yes", "a", "yes"),
        heard("yes", "no", "b", "yes"),
        heard("aye", "no", "a", "aye"),
        heard("aye", "aye", "b", "aye"),
        Heard("aye", TALK, (0, "a", 0), "clean", "", right=True, believed=True),
    ]
    whole = [
        Heard(one.place, one.said, one.case, condition, one.heard, one.right, one.believed)
        for one in said
        for condition in ("clean", "pink 10 dB", "babble 10 dB", "pink 5 dB")
    ]
    lines = list(rival_table([Rivalry("agreeing", (first, second))], whole))
    half = "50 / 50 %"
    each = " | ".join([half] * 4)
    assert lines[2:] == [
        f"| agreeing | yes | 2 | {each} | 4 of 8 | 0 of 0 | | | |",
        f"| agreeing | aye | 2 | {each} | 4 of 8 | 4 of 4 | 4 | 4 | 1.000 |",
    ]


def test_a_pair_is_counted_either_way_and_not_where_both_mean_one() -> None:
    measured = [
        Confusion("p", "yes", "yes", True, "pink", 7, 10),
        Confusion("p", "yes", "no", False, "pink", 3, 10),
        Confusion("p", "no", "no", True, "pink", 9, 10),
        Confusion("p", "no", "yes", False, "pink", 1, 10),
        Confusion("p", "yet", "yes", True, "pink", 10, 10),
        Confusion("q", "yet", "yet", True, "pink", 10, 10),
    ]
    found = list(pairs(measured, DICTIONARY))
    assert [(pair.one, pair.other, pair.times, pair.of) for pair in found] == [
        ("yes", "no", 4, 20),
        ("no", "yet", 0, 20),
    ]
    assert isinstance(found[0], Pair)
    assert found[0].share == 0.2


# Spearman's coefficient with ties, worked out by hand: ranks 1, 2.5, 2.5, 4 against 1, 2, 3, 4.
def test_ranks_that_are_shared() -> None:
    assert rank_correlation([1, 2, 2, 3], [1, 2, 3, 4]) == pytest.approx(4.5 / (4.5 * 5) ** 0.5)
    assert rank_correlation([1, 2, 3], [3, 2, 1]) == -1


def test_nearness_tells_confused_pairs_or_not() -> None:
    assert told_apart([1, 1], [2, 3]) == 1.0
    assert told_apart([1], [1]) == 0.5
