"""The free rival: the likeliest piece at each step, alone and beside a search."""

from __future__ import annotations

import math

import numpy as np
import pytest

from assistant.speech.moonshine.pieces import END
from assistant.speech.moonshine.rival import FreeRival
from tests.speech.fake_decoding import LETTERS, FakeDecoding, heard

# Fact of the model: the decoder gives the probability of each piece after those before it, so that
# of a sentence is their product, its end included.
WEIGHTS = heard(Yes=0.2, no=0.5, nothing=0.3)


def beginning() -> FakeDecoding:
    return FakeDecoding(WEIGHTS)


def test_it_is_the_likeliest_piece_at_each_step_with_the_probability_of_the_whole() -> None:
    rival = FreeRival(beginning()).whole()
    assert LETTERS.text(rival.tokens) == "no"
    assert rival.heard == pytest.approx(math.log(0.5), abs=1e-5)


@pytest.mark.parametrize("steps", [0, 1, 2, 5, 9])
def test_beside_a_search_of_any_length_it_is_the_same(steps: int) -> None:
    start = beginning()
    rival = FreeRival(start)
    decoding = rival.beside()
    searched = (*LETTERS.segment("nothing"), END)
    for step in range(min(steps, len(searched) - 1)):
        decoding = decoding.extend([0], [searched[step]])
        # The search sees its own row, and no other.
        assert decoding.following.shape[0] == 1
        assert int(decoding.following[0].argmax()) in {searched[step + 1], END}
    assert rival.whole() == FreeRival(beginning()).whole()


def test_a_call_serves_both_until_the_rival_has_ended() -> None:
    start = beginning()
    rival = FreeRival(start)
    decoding = rival.beside()
    for token in LETTERS.segment("nothing"):
        decoding = decoding.extend([0, 0], [token, token])
    rival.whole()
    alone = len(LETTERS.segment("no"))
    assert start.calls == [3] * alone + [2] * (len(LETTERS.segment("nothing")) - alone)


def test_a_model_that_never_ends_is_cut_off() -> None:
    endless = FakeDecoding({LETTERS.segment("no" * 60): 1.0})
    assert len(FreeRival(endless).whole().tokens) == 40
    assert np.isclose(FreeRival(endless).whole().heard, 0.0, atol=1e-4)
