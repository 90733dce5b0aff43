from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE
from assistant.speech.moonshine.nonspeech import Beginning, NonSpeech, PriorStore, noises
from assistant.speech.moonshine.prior_store import FileStore, MemoryStore

NOISES, PIECES = 2, 50


class CountingScorer:
    """Stands for the decoder: scores that tell beginning and piece, and how often it was asked."""

    def __init__(self) -> None:
        self.asked: list[list[Beginning]] = []

    def __call__(self, beginnings: Sequence[Beginning]) -> NDArray[np.float32]:
        self.asked.append(list(beginnings))
        rows = np.array([sum(one) for one in beginnings])[np.newaxis, :, np.newaxis]
        noise = np.arange(NOISES)[:, np.newaxis, np.newaxis]
        return np.asarray(-(rows + 0.01 * np.arange(PIECES) + 100 * noise), np.float32)


@pytest.fixture(params=["memory", "file", "file in no folder", "damaged file"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[PriorStore]:
    if request.param == "memory":
        yield MemoryStore()
        return
    file = tmp_path / "cache" / "prior.sqlite"
    if request.param == "file in no folder":
        file.parent.write_text("not a folder")
    if request.param == "damaged file":
        file.parent.mkdir()
        file.write_bytes(b"no database at all" * 500)
    kept = FileStore(file, NOISES)
    yield kept
    kept.close()


def test_each_beginning_is_scored_once(store: PriorStore) -> None:
    scorer = CountingScorer()
    prior = NonSpeech(scorer, store)
    first = prior.following([(7,), (8,)], [[1, 2], [3]])
    again = prior.following([(8,), (7,), (9,)], [[3], [2], [4]])
    assert scorer.asked == [[(7,), (8,)], [(9,)]]
    assert first[0][2] == pytest.approx([-7.02, -107.02])
    assert again[1][2] == pytest.approx([-7.02, -107.02])


def test_a_beginning_known_for_other_tokens_keeps_both(store: PriorStore) -> None:
    prior = NonSpeech(CountingScorer(), store)
    prior.following([()], [[1]])
    assert prior.following([()], [[2]])[0].keys() >= {1, 2}


def test_the_file_spares_the_next_run(tmp_path: Path) -> None:
    file, scorer = tmp_path / "prior.sqlite", CountingScorer()
    before = FileStore(file, NOISES)
    NonSpeech(scorer, before).following([(7,)], [[1, 2]])
    before.close()
    after = FileStore(file, NOISES)
    found = NonSpeech(scorer, after).following([(7,)], [[2]])
    after.close()
    assert len(scorer.asked) == 1
    assert found[0][2] == pytest.approx([-7.02, -107.02])


def test_a_file_for_another_number_of_noises_is_not_misread(tmp_path: Path) -> None:
    file = tmp_path / "prior.sqlite"
    before = FileStore(file, NOISES)
    NonSpeech(CountingScorer(), before).following([(7,)], [[1, 2, 3]])
    before.close()
    after = FileStore(file, 5)
    assert after.get((7,)) is None
    after.close()


def test_a_locked_file_costs_only_time(tmp_path: Path) -> None:
    file = tmp_path / "prior.sqlite"
    kept = FileStore(file, NOISES)
    other = sqlite3.connect(file, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    found = NonSpeech(CountingScorer(), kept).following([(7,)], [[1]])
    assert found[0][1] == pytest.approx([-7.01, -107.01])
    other.close()
    kept.close()


def test_the_noises_are_always_the_same_and_no_louder_than_speech() -> None:
    # loudness: full scale is 1; speech close to a microphone has some 0.05 to 0.2 RMS (from memory)
    for one, again in zip(noises(), noises(), strict=True):
        assert np.array_equal(one, again)
        assert len(one) == SAMPLE_RATE
        assert one.dtype == np.float32
        assert np.sqrt(np.mean(one**2)) <= 0.2


def test_memory_keeps_what_was_put_last() -> None:
    store, score = MemoryStore(most=2), np.zeros(NOISES, np.float32)
    for token in (7, 8, 9):
        store.put({(token,): {1: score}})
    assert store.get((7,)) is None
    assert store.get((8,)) is not None
    assert store.get((9,)) is not None
