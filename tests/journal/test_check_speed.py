"""How long it takes to check a long journal; `tests.bench.journal` measures more, by hand."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from assistant.journal import chain
from assistant.journal.entry import opening
from assistant.journal.tree import root
from tests.bench.journal import long_journal, spoken_job
from tests.cli.command import gloveside
from tests.journal.chained import chained

COUNT = 4_000
LIMIT = 5 * 5.0 * COUNT / 100_000
"""Seconds of the processor: five times the 5 s for 100,000 entries. It is to find what takes ever
longer with the length, and the suite has company."""


def reply(number: int) -> dict[str, Any]:
    """A reply as a job by voice keeps it."""
    return {
        "kind": "heard",
        "step": "open-end/check-left",
        "clip": {"file": f"clips/{number:04d}.wav", "sha256": f"{number:064x}"},
        "heard": {
            "confidence": 0.9478400658816818,
            "engine": "moonshine-tiny-en",
            "seconds": 2.131625,
            "text": "One and two closed, three and four open.",
        },
        "meant": {"contacts": {"1": "closed", "2": "closed", "3": "open", "4": "open"}},
        "rival": {"contacts": {"1": "open", "2": "closed", "3": "open", "4": "open"}},
        "said": ["I heard one and two closed, three and four open. Correct?"],
    }


def journal() -> list[bytes]:
    bodies = (opening({}, {}, {}, {}, "0.1.0"), *map(reply, range(2, COUNT + 1)))
    return [entry.line + b"\n" for entry in chained(bodies, time_of)]


def time_of(number: int) -> str:
    return f"2031-05-14T08:{number // 60 % 60:02d}:{number % 60:02d}.250Z"


def test_a_long_journal_is_checked_in_time() -> None:
    lines = journal()
    begin = time.process_time()
    problems = chain.check(lines)
    root(line[:-1] for line in lines)
    took = time.process_time() - begin
    assert [problem for problem in problems if problem.level is chain.Level.ERROR] == []
    assert took < LIMIT


@pytest.mark.parametrize(
    ("make", "clips"),
    [(lambda folder: spoken_job(folder, 60, 7), 7), (lambda folder: long_journal(folder, 60), 0)],
)
def test_the_journals_that_are_measured_are_sound_ones(
    make: Callable[[Path], None], clips: int, tmp_path: Path
) -> None:
    folder = tmp_path / "job"
    make(folder)
    assert "60 entries: chain, clips, sources, replay" in gloveside("verify", folder).out
    assert len(list((folder / "clips").glob("*.wav"))) == clips
