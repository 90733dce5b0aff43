from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from assistant.language.grammar import Grammar, OneOf, Rule, Term
from assistant.language.meaning import Choice
from assistant.speech.moonshine.search import NON_SPEECH_WEIGHT, search
from assistant.speech.moonshine.token_graph import TokenGraph
from tests.speech.fake_decoding import LETTERS, FakeDecoding, Weights, distribution, heard


@dataclass
class FakePrior:
    """Non-speech in which sentences have given probabilities, one mapping for each noise."""

    noises: Sequence[Weights]

    def following(
        self, beginnings: Sequence[tuple[int, ...]], wanted: Sequence[Sequence[int]]
    ) -> list[dict[int, NDArray[np.float32]]]:
        rows = [np.stack([distribution(w, b) for w in self.noises]) for b in beginnings]
        return [
            {token: row[:, token] for token in tokens}
            for row, tokens in zip(rows, wanted, strict=True)
        ]


def graph_of(*sentences: str) -> TokenGraph:
    rule = Rule("r", OneOf(*(Term(one, (), one) for one in sentences)), lambda t: Choice(str(t[0])))
    return TokenGraph(Grammar((rule,)), LETTERS)


INDIFFERENT = FakePrior([heard(yes=0.5, no=0.5)])


def test_the_sentence_heard_is_found_with_its_probability_among_all_sentences() -> None:
    decoding = FakeDecoding(heard(yes=0.2, no=0.1, lunch=0.7))
    best = search(graph_of("yes", "no"), decoding, INDIFFERENT)[0]
    assert LETTERS.text(best.tokens) == "yes"
    assert best.heard == pytest.approx(math.log(0.2), abs=1e-3)
    assert best.unheard == pytest.approx(math.log(0.5), abs=1e-3)


def test_a_sentence_that_begins_another_has_its_own_probability() -> None:
    decoding = FakeDecoding(heard(hold=0.3, holdit=0.6, no=0.1))
    found = search(graph_of("hold", "holdit"), decoding, FakePrior([heard(hold=0.5, holdit=0.5)]))
    shares = {LETTERS.text(path.tokens): math.exp(path.heard) for path in found}
    assert shares["hold"] == pytest.approx(0.3, abs=1e-3)
    assert shares["holdit"] == pytest.approx(0.6, abs=1e-3)


def test_what_noise_makes_probable_counts_less() -> None:
    graph, decoding = graph_of("yes", "no"), FakeDecoding(heard(yes=0.4, no=0.6))
    noisy = FakePrior([heard(yes=0.01, no=0.99), heard(yes=0.02, no=0.98)])
    assert LETTERS.text(search(graph, decoding, INDIFFERENT)[0].tokens) == "no"
    best = search(graph, decoding, noisy)[0]
    assert LETTERS.text(best.tokens) == "yes"
    assert best.unheard == pytest.approx(math.log(0.015), abs=1e-2)  # mean of 0.01 and 0.02


def test_each_step_is_one_call_no_wider_than_the_beam() -> None:
    words = ["abc", "abd", "bcd", "cde", "efg", "fgh", "ghi"]
    decoding = FakeDecoding(heard(**dict.fromkeys(words, 1 / 7)))
    prior = FakePrior([decoding.weights])
    search(graph_of(*words), decoding, prior, width=3)
    assert max(decoding.calls) <= 3
    assert len(decoding.calls) <= len("▁abc.")


def test_beginnings_that_cannot_matter_are_left() -> None:
    decoding = FakeDecoding(heard(no=1.0))
    search(graph_of("no", "nononononono"), decoding, FakePrior([heard(no=0.5, nononononono=0.5)]))
    assert len(decoding.calls) <= 4


@given(
    st.dictionaries(
        st.text("abc", min_size=1, max_size=4), st.floats(0.01, 1.0), min_size=1, max_size=8
    ),
    st.data(),
)
def test_a_wide_beam_finds_what_trying_every_sentence_finds(
    shares: dict[str, float], data: st.DataObject
) -> None:
    noise = {word: data.draw(st.floats(0.01, 1.0)) for word in shares}
    total, all_noise = sum(shares.values()), sum(noise.values())
    expected = max(
        math.log(shares[word] / total) - NON_SPEECH_WEIGHT * math.log(noise[word] / all_noise)
        for word in shares
    )
    found = search(
        graph_of(*shares), FakeDecoding(heard(**shares)), FakePrior([heard(**noise)]), width=100
    )
    assert found[0].score() == pytest.approx(expected, abs=1e-2)
    assert found == sorted(found, key=lambda path: path.score(), reverse=True)
