"""A journal that an older program wrote opens, and comes out as it was decided then.

The journal in `format-1` was written by the program as it was before replies were told apart: an
unclear reply was simply not understood, and its failures were counted, but not written down.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

import assistant.session.dialogue as dialogue_module
from assistant.journal import chain
from assistant.journal.entry import FORMAT, FORMAT_1, FORMAT_2, Entry
from assistant.journal.replay import ReplayError, replay
from assistant.language.english import english
from assistant.language.meaning import Command, Word
from assistant.language.recognition import Recognition
from assistant.procedure.load import load_program
from assistant.session.core import Session
from assistant.session.effects import Say
from assistant.session.events import Heard
from tests.session.job import kf

HERE = Path(__file__).parent / "format-1"


def lines() -> Iterator[bytes]:
    return iter((HERE / "journal.jsonl").read_bytes().splitlines(keepends=True))


def entries() -> list[Entry]:
    return [Entry.from_line(line) for line in lines()]


def fresh() -> Session:
    return Session(load_program(HERE / "answers.yaml"), kf("07"), english())


def test_it_is_sound_and_of_the_first_format() -> None:
    assert chain.check(list(lines())) == []
    first, *others = entries()
    assert first.body["format"] == FORMAT_1
    assert sum("held" in entry.body for entry in others) == 2
    assert sum(entry.body.get("rival") is not None for entry in others) == 7


def test_it_replays_to_its_end() -> None:
    session = fresh()
    replay(session, entries())
    assert session.finished
    assert session.questions == 6


def test_it_would_not_if_more_failures_were_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dialogue_module, "MOST_FAILURES", dialogue_module.MOST_FAILURES + 1)
    with pytest.raises(ReplayError, match="held"):
        replay(fresh(), entries())


def test_it_would_not_if_its_unclear_replies_were_told_apart() -> None:
    told = (line.replace(b'"rival":', b'"other":') for line in lines())
    with pytest.raises(ReplayError):
        replay(fresh(), [Entry.from_line(line) for line in told])


@pytest.mark.parametrize("form", [FORMAT_2, FORMAT])
def test_what_the_second_format_adds_is_compared_from_it_on(form: str) -> None:
    first, *others = entries()
    newer = Entry(1, first.time, first.previous, {**first.body, "format": form})
    with pytest.raises(ReplayError, match="failed"):
        replay(fresh(), [newer, *others])


def test_a_job_that_was_begun_in_the_first_format_goes_on_in_it_with_unclear_replies() -> None:
    # What a newer program writes into an older journal is told by the name of the other meaning.
    unclear = {
        "kind": "heard",
        "heard": {"text": "both open", "confidence": 0.4, "seconds": 0.0, "engine": "test"},
        "meant": {"contacts": {"1": "open"}},
        "other": {"contacts": {"1": "closed"}},
        "clip": None,
        "step": "states",
    }
    first = entries()[0]
    session = fresh()
    replay(session, [first, Entry(2, first.time, first.hash, unclear)])
    again = Recognition("say again", Command(Word.SAY_AGAIN), 1.0, 0.0, "test")
    assert Say("Contact one: open or closed?") in session.receive(Heard(first.time, again))
