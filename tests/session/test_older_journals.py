"""A journal that an older program wrote opens, and comes out as it was decided then.

The journal in `format-1` was written by the program as it was before replies were told apart: an
unclear reply was simply not understood, and its failures were counted, but not written down. That
in `format-3` was written before a hold said its kind: its sentences were compared; that in
`format-3-words` before a reason was agreed on and a long silence was a break.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

import assistant.journal.replay as replay_module
import assistant.session.dialogue as dialogue_module
from assistant.journal import chain
from assistant.journal.entry import FORMAT, FORMAT_1, FORMAT_2, FORMAT_3, FORMAT_4, Entry
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


@pytest.mark.parametrize("form", [FORMAT_2, FORMAT_3, FORMAT_4, FORMAT])
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


# Format 3

REASONS = Path(__file__).parent / "format-3"


def reasons_entries() -> list[Entry]:
    return [Entry.from_line(line) for line in (REASONS / "journal.jsonl").read_bytes().splitlines()]


def replay_reasons(entries: list[Entry]) -> Session:
    session = Session(load_program(REASONS / "reasons.yaml"), kf("07"), english())
    replay(session, entries)
    return session


def changed(entry: Entry, change: Callable[[dict[str, Any]], None]) -> Entry:
    body = json.loads(json.dumps(dict(entry.body)))
    change(body)
    return Entry(entry.seq, entry.time, entry.previous, body)


def in_other_words(body: dict[str, Any]) -> None:
    """Every sentence of an entry, as a program would have it that said everything otherwise."""
    body["said"] = ["Otherwise."]
    if "held" in body:
        body["held"] = "Held."
    if "hold_closed" in body:
        body["hold_closed"]["reason"] = "Closed."
    if "advice" in body:
        body["advice"]["reasons"] = ["So."]
    for told in body.get("recorded", ()):
        if "written" in told or " " in told["value"]:
            told["value"] = "In other words."


def test_the_third_format_holds_what_it_is_kept_for() -> None:
    assert chain.check((REASONS / "journal.jsonl").read_bytes().splitlines(keepends=True)) == []
    first, *others = reasons_entries()
    assert first.body["format"] == FORMAT_3
    assert sum("held" in entry.body for entry in others) == 7
    assert all("hold_kind" not in entry.body for entry in others)
    assert sum("hold_closed" in entry.body for entry in others) == 1
    kinds = {told["kind"] for entry in others for told in entry.body.get("recorded", ())}
    assert kinds == {"text", "rotation", "reading", "contacts", "number", "advice"}


def test_it_opens_whatever_the_words_were_in_which_it_was_spoken() -> None:
    assert replay_reasons(reasons_entries()).finished
    reworded = [changed(entry, in_other_words) for entry in reasons_entries()]
    assert replay_reasons(reworded).finished


def set_in(field: str, name: str, value: Any) -> Callable[[dict[str, Any]], None]:
    def change(body: dict[str, Any]) -> None:
        body[field] = {**body[field], name: value}

    return change


def set_value(name: str, field: str, value: Any) -> Callable[[dict[str, Any]], None]:
    def change(body: dict[str, Any]) -> None:
        for told in body["recorded"]:
            if told["name"] == name:
                told[field] = value

    return change


@pytest.mark.parametrize(
    ("field", "change"),
    [
        ("held", lambda body: body.pop("held")),
        ("hold_closed", set_in("hold_closed", "by", "checker")),
        ("advice", set_in("advice", "rotor", "closed")),
        ("advice", set_in("advice", "verdict", "not-yet")),
        ("advice", set_in("advice", "turn", "clockwise")),
        ("advice", set_in("advice", "leave", {"1": "open"})),
        ("recorded", set_value("shafts", "value", "free")),
        ("recorded", set_value("shafts", "value", "They were free.")),
        ("recorded", set_value("shafts", "value", None)),
        ("recorded", set_value("open-end/seen", "value", "counterclockwise")),
        ("recorded", set_value("open-end/found", "written", {"contacts": {"1": "open"}})),
        ("recorded", set_value("open-end/turns", "written", {"number": 3, "unit": "turns"})),
        ("recorded", set_value("open-end/advice", "rotor", "closed")),
    ],
)
def test_it_does_not_where_something_else_was_decided(
    field: str, change: Callable[[dict[str, Any]], None]
) -> None:
    def at(entry: Entry) -> Entry:
        if field not in entry.body:
            return entry
        other = changed(entry, change)
        touched.append(other.body != entry.body)
        return other

    touched: list[bool] = []
    forged = [at(entry) for entry in reasons_entries()]
    assert any(touched)
    with pytest.raises(ReplayError, match=field):
        replay_reasons(forged)


WORDS = Path(__file__).parent / "format-3-words"


def words_entries() -> list[Entry]:
    journal = (WORDS / "journal.jsonl").read_bytes()
    return [Entry.from_line(line) for line in journal.splitlines(keepends=True)]


def fresh_with_words() -> Session:
    return Session(load_program(WORDS / "keeping.yaml"), kf("07"), english())


def test_a_job_of_the_third_format_replays_to_its_end() -> None:
    first, *others = words_entries()
    assert first.body["format"] == FORMAT_3
    notes = [entry.body for entry in others if entry.body.get("note") is True]
    assert [body["heard"]["text"] for body in notes] == ["brrrm", "say again", "help", "say again"]
    session = fresh_with_words()
    replay(session, words_entries())
    assert session.finished


def test_and_goes_on_by_the_rules_by_which_it_was_begun() -> None:
    session = fresh_with_words()
    replay(session, words_entries()[:3])
    assert words_entries()[2].body["said"] == ["Say what was found, and what was done."]
    noise = Recognition("brrrm", None, 0.0, 0.2, "test")
    effects = session.receive(Heard(words_entries()[3].time, noise))
    assert Say("Who closes this hold? Say technician, or checker.") in effects


def test_by_the_rules_of_now_it_was_decided_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(replay_module, "RULES_OF", {})
    with pytest.raises(ReplayError, match="line 4: the journal says nothing at 'failed'"):
        replay(fresh_with_words(), words_entries())
