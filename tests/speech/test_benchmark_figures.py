"""The benchmark of hearing counts what it says it counts."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from assistant.language.answers import AskContacts, AskRotation, confirming, grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from tests.bench.chart import chart, understood_by_ratio
from tests.bench.outcomes import Outcome, kept_in_csv
from tests.bench.pocketsphinx_ear import transitions
from tests.bench.replies import replies, sample
from tests.bench.second_opinion import Heard, table
from tests.bench.tables import cells, reliability

BOOK = english()
PAIR = AskContacts((1, 2))


def meaning(text: str) -> Meaning:
    found = grammar(PAIR, BOOK).parse(text)
    assert found is not None
    return found


def outcome(
    said: str | None, heard: str | None, confidence: float = 0.9, condition: str = "clean"
) -> Outcome:
    best = None if heard is None else meaning(heard)
    return Outcome(
        ear="ours",
        group="g",
        condition=condition,
        label="l",
        said=None if said is None else meaning(said),
        text=heard or "",
        best=best,
        meaning=best if confidence >= 0.5 else None,
        confidence=confidence,
        seconds=1.0,
        taken=0.1,
    )


@pytest.mark.parametrize(
    ("said", "heard", "confidence", "verdict", "swapped"),
    [
        ("both closed", "both closed", 0.9, "understood", False),
        ("both closed", "both closed", 0.4, "unclear", False),
        ("both closed", None, 0.0, "unclear", False),
        ("both closed", "both open", 0.9, "wrong", True),
        ("both closed", "both open", 0.4, "unclear", False),
        ("both closed", "one closed", 0.9, "wrong", False),
        ("both closed", "hold", 0.9, "wrong", False),
        (None, "hold", 0.9, "wrong", False),
        (None, None, 0.0, "right", False),
    ],
)
def test_an_outcome_is_judged(
    said: str | None, heard: str | None, confidence: float, verdict: str, swapped: bool
) -> None:
    one = outcome(said, heard, confidence)
    assert (one.verdict, one.swapped) == (verdict, swapped)


def test_a_cell_has_its_figures() -> None:
    four = [
        outcome("both closed", "both closed"),
        outcome("both closed", "both open"),
        outcome("both closed", "both closed", 0.2),
        outcome("both closed", "both closed"),
    ]
    assert list(cells(four))[-1] == "| g | clean | 4 | 50.0 % | 1 | 1 | 1 |"


def test_a_recogniser_that_was_stopped_before_a_cell_has_no_figures_there() -> None:
    other = replace(outcome("hold", "hold"), ear="other")
    late = outcome("hold", "hold", condition="quiet")
    assert list(cells([outcome("hold", "hold"), other, late]))[-1] == (
        "| g | quiet | 1 | 100.0 % | 0 | 0 | 0 | - | - | 0 | - |"
    )


def test_the_reliability_compares_stated_with_observed() -> None:
    ten = [outcome("both open", "both open", 0.72)] * 7 + [outcome("both open", "hold", 0.78)] * 3
    assert "| 0.7 to 0.8 | 10 | 74 % | 70 % |" in list(reliability(ten))


def test_full_confidence_is_in_the_last_bin() -> None:
    assert list(reliability([outcome("hold", "hold", 1.0)]))[-1] == (
        "| 0.9 to 1.0 | 1 | 100 % | 100 % |"
    )


def test_every_case_is_a_line_of_the_file_before_the_next_is_heard(tmp_path: Path) -> None:
    file = tmp_path / "cases.csv"
    coming = kept_in_csv(file, [outcome("hold", "hold"), outcome(None, None)])
    for lines, _ in enumerate(coming, 2):
        assert len(file.read_text("utf-8").splitlines()) == lines


def test_the_chart_has_a_line_for_each_noise() -> None:
    heard = [
        outcome("hold", "hold"),
        outcome("hold", "hold", condition="pink 10 dB"),
        outcome("hold", None, condition="pink 5 dB"),
        outcome("hold", "hold", condition="hum 10 dB"),
        outcome("hold", "hold", condition="small hard room"),
    ]
    lines = understood_by_ratio(heard, "g", "ours")
    assert lines == {
        "pink": {"clean": 1.0, "10 dB": 1.0, "5 dB": 0.0},
        "hum": {"clean": 1.0, "10 dB": 1.0},
    }
    drawn = ElementTree.fromstring(chart("title", lines))
    assert len(drawn.findall("{http://www.w3.org/2000/svg}polyline")) == 2


def _accepted(under: Grammar, text: str) -> bool:
    """Whether the transitions for PocketSphinx lead from the start to the end by these words."""
    end, found = transitions(under)
    states = {0}
    for word in text.split():
        states = {
            step[1] for step in found if len(step) == 4 and step[0] in states and step[3] == word
        }
    return any(step[0] in states and step[1] == end for step in found if len(step) == 3)


@pytest.mark.parametrize("under", [grammar(AskRotation(), BOOK), confirming(PAIR, BOOK)])
def test_pocketsphinx_gets_the_same_grammar(under: Grammar) -> None:
    for text in under.sentences(60):
        assert _accepted(under, text), text
    for text in ("closed", "clockwise clockwise", "wrong one", ""):
        assert not _accepted(under, text), text


def test_every_reply_of_jobs_answers_its_question() -> None:
    assert len(replies()) > 200
    assert all(said.meaning is not None for said in replies())


def test_replies_are_drawn_without_repeating_and_the_frequent_ones_first() -> None:
    drawn = sample(50, 1)
    assert len(set(drawn)) == 50
    assert drawn == sample(50, 1) != sample(50, 2)
    usual = sum(replies()[said] for said in drawn) / len(drawn)
    assert usual > 2 * sum(replies().values()) / len(replies())


def test_a_second_opinion_is_compared_at_as_many_right_ones() -> None:
    right = outcome("both closed", "both closed", 0.8)
    wrong = outcome("both closed", "both open", 0.9)
    closed, open_ = right, outcome("both closed", "both open")
    heard = [Heard(right, closed), Heard(wrong, closed), Heard(right, open_)]
    lines = list(table(heard))
    assert "| ours alone at 0.5 | 3 | 2 | 1 |" in lines
    assert "| ours at 0.5 and the second heard the same | 3 | 1 | 0 |" in lines
    assert any("ours alone at 0.800 | 3 | 2 | 1 |" in line for line in lines)
