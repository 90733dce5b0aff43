"""A session is its events: the same events give the same job, whatever they are."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import assistant.journal.replay as replay_module
import assistant.trade.shaft as shaft_module
from assistant.journal.chain import link
from assistant.journal.decisions import DECISIONS, DECISIONS_OF
from assistant.journal.entry import FORMATS, Entry, opening
from assistant.journal.replay import ReplayError, replay
from assistant.language.english import english
from assistant.session.account import account, decided
from assistant.session.core import Session
from assistant.session.events import event_from_json, event_to_json
from assistant.session.holds import REASONS, HoldKind
from tests.session.job import NOW, TO_READING, Job, kf, two_ends

PROGRAM, UNIT = two_ends(), kf("07")
OPENING = opening({}, {}, {}, {}, "test")

WORDS = st.sampled_from(
    [
        "yes",
        "no",
        "done",
        "correct",
        "wrong",
        "hold",
        "carry on",
        "go back",
        "help",
        "note",
        "mark",
        "mark four",
        "none",
        "checker correct",
        "technician",
        "skip this step",
        "locked",
        "free",
        "clockwise",
        "kilo foxtrot zero seven",
        "charlie",
        "say again",
        "one and two closed",
        "one and two closed three and four open",
        "both open",
        "gibberish",
        "wrong, one open",
        "repeat contacts",
        "",
    ]
)


def fresh() -> Session:
    return Session(PROGRAM, UNIT, english())


def journal_of(job: Job, session: Session | None = None) -> list[Entry]:
    """The entries that the job's events give, to a new session; by default with two ends."""
    session, entries = session or fresh(), list[Entry]()
    for number, event in enumerate(job.history, start=1):
        body = account(session.step, event, session.receive(event))
        if number == 1:
            body = {**OPENING, **body}
        entries.append(link(entries[-1].line if entries else None, number, NOW, body))
    return entries


def talk(words: list[str], lead: int) -> Job:
    job = Job(fresh()).say(*TO_READING[:lead])
    for word in words:
        if job.session.finished:
            break
        job.say(word) if word else job.silence()
    return job


@settings(max_examples=150, deadline=None)
@given(st.lists(WORDS, max_size=30), st.integers(0, len(TO_READING)))
def test_whatever_is_said_the_job_stays_askable_and_replays_to_the_same_place(
    words: list[str], lead: int
) -> None:
    job = talk(words, lead)
    assert job.session.finished or job.listen.grammar is not None
    again = fresh()
    replay(again, journal_of(job))
    assert again.step == job.session.step
    assert again.held == job.session.held
    assert again.questions == job.session.questions


@settings(max_examples=100, deadline=None)
@given(st.lists(WORDS, max_size=10), st.integers(0, len(TO_READING)))
def test_events_survive_the_journal(words: list[str], lead: int) -> None:
    for event in talk(words, lead).history:
        data = json.loads(json.dumps(event_to_json(event)))
        assert event_from_json(event.at, data) == event


def test_a_journal_in_which_an_answer_was_changed_does_not_replay() -> None:
    entries = journal_of(Job(fresh()).say(*TO_READING, "one and two open", "both closed", "yes"))
    honest = entries[-1]
    assert honest.body["confirmed"]["open-end/read"]["contacts"]["1"] == "open"
    body = json.loads(json.dumps(dict(honest.body)).replace('"1": "open"', '"1": "closed"'))
    forged = link(entries[-2].line, honest.seq, NOW, body)
    with pytest.raises(ReplayError, match=f"line {honest.seq}") as told:
        replay(fresh(), [*entries[:-1], forged])
    # The message names what differs, and not the whole entry.
    assert told.value.what == (
        "the journal says \"closed\" at 'confirmed, open-end/read, contacts, 1', "
        'and what was heard and the procedure give "open"'
    )


def test_a_newer_program_that_decides_more_still_opens_an_older_job(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # The rule of the format: what an older program did not decide is not asked of its journals.
    entries = journal_of(Job(fresh()).say(*TO_READING))
    newer = decided

    def deciding_more(*told: Any) -> dict[str, Any]:
        return {**newer(*told), "mood": "calm"}

    monkeypatch.setattr(replay_module, "decided", deciding_more)
    newer_format = "gloveside-journal/next"  # no format: they have numbers
    more = {**DECISIONS, "mood": str}
    monkeypatch.setattr(replay_module, "DECISIONS_OF", {**DECISIONS_OF, newer_format: more})
    replay(fresh(), entries)
    first = Entry(1, NOW, entries[0].previous, {**entries[0].body, "format": newer_format})
    with pytest.raises(ReplayError, match="mood"):
        replay(fresh(), [first, *entries[1:]])


def test_what_a_newer_program_added_to_an_entry_is_kept_and_does_not_matter() -> None:
    entries = journal_of(Job(fresh()).say(*TO_READING))
    added = [Entry(e.seq, e.time, e.previous, {**e.body, "weather": "rain"}) for e in entries]
    replay(fresh(), added)
    assert b'"weather":"rain"' in Entry.from_line(added[-1].line).line


def test_it_is_known_of_every_format_what_is_decided_in_it() -> None:
    assert set(DECISIONS_OF) == set(FORMATS)


HELD = Job(fresh()).say(*TO_READING, "hold", "carry on").silence(3)
SET = (*TO_READING, "one and two closed three and four open", "correct")


@pytest.mark.parametrize("kind", [HoldKind.SAID, HoldKind.NOINPUT])
def test_a_program_that_words_a_hold_otherwise_goes_on_with_an_older_job(
    monkeypatch: pytest.MonkeyPatch, kind: HoldKind
) -> None:
    entries = journal_of(HELD)
    assert REASONS[kind] in {entry.body.get("held") for entry in entries}
    monkeypatch.setitem(REASONS, kind, "Said in another way.")
    replay(fresh(), entries)


def test_a_program_that_gives_other_reasons_for_a_direction_goes_on_with_an_older_job(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    entries = journal_of(Job(fresh()).say(*SET))
    monkeypatch.setattr(shaft_module, "_why_already", lambda _reading: "Said in another way.")
    again = fresh()
    replay(again, entries)
    assert again.step == "open-end/disengage"


def test_a_hold_of_another_kind_does_not_replay() -> None:
    entries = journal_of(HELD)
    last = entries[-1]
    assert last.body["hold_kind"] == "noinput"
    forged = Entry(last.seq, NOW, last.previous, {**last.body, "hold_kind": "said"})
    with pytest.raises(ReplayError, match="hold_kind"):
        replay(fresh(), [*entries[:-1], forged])
