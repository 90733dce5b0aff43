"""What the record says is what the journal holds."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.journal import chain
from assistant.journal.entry import Entry, opening
from assistant.language.meaning import (
    Choice,
    Command,
    ContactStates,
    Correction,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
    to_json,
)
from assistant.record.page import render
from assistant.record.summary import Field, RotorResult, Summary, in_words, summarise
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation
from tests.journal.chained import chained

OPEN, CLOSED = ContactState.OPEN, ContactState.CLOSED

OPENED = opening(
    {"work order": "KF-2207", "technician": "M. Orr"},
    {"units/kf-07.yaml": "ab" * 32},
    {"tag": "KF-07", "drawing": "KF-E-118", "revision": "C"},
    {"name": "set-geared-limits", "title": "Set the geared limit switches", "revision": "3"},
    "0.1.0",
)


def entries(*bodies: dict[str, Any]) -> list[Entry]:
    return chained((OPENED, *bodies))


def summary(*bodies: dict[str, Any]) -> Summary:
    return summarise(entries(*bodies))


def read(states: dict[int, ContactState], name: str = "contacts") -> dict[str, Any]:
    return {"kind": "heard", "confirmed": {name: to_json(ContactStates.of(states))}}


def advised(verdict: str, turn: str | None, leave: dict[str, str]) -> dict[str, Any]:
    advice = {"rotor": "open", "verdict": verdict, "turn": turn, "leave": leave, "reasons": ["So."]}
    return {"kind": "advised", "advice": advice}


LEAVE = {"1": "closed", "2": "closed", "3": "open", "4": "open"}
NOT_YET = advised("not-yet", "counterclockwise", LEAVE)
AS_FOUND = {1: OPEN, 2: OPEN, 3: CLOSED, 4: CLOSED}
AS_LEFT = {1: CLOSED, 2: CLOSED, 3: OPEN, 4: OPEN}


def rotor(*bodies: dict[str, Any]) -> RotorResult:
    (result,) = summary(*bodies).rotors
    return result


def test_the_head_is_the_first_entry() -> None:
    made = entries({"kind": "heard", "finished": True})
    seen = summarise(made)
    assert seen.tag == "KF-07"
    assert Field("work order", "KF-2207") in seen.job
    assert Field("revision", "C") in seen.unit
    assert Field("revision", "3") in seen.procedure
    assert (seen.started, seen.ended) == (made[0].time, made[1].time)
    assert (seen.entries, seen.last_hash) == (2, chain.line_hash(made[-1].line))


def test_a_job_that_stops_short_has_not_ended() -> None:
    seen = summary({"kind": "heard"}, {"kind": "heard", "finished": False})
    assert seen.ended is None
    assert seen.last_time == "2031-05-14T08:03:00.000Z"


def test_no_entries_make_no_record() -> None:
    with pytest.raises(ValueError):
        summarise([])


# Rotors: as found, advised, as left (10 CFR 72.174 asks for the results and what was found).


def test_a_rotor_has_what_was_found_advised_and_left() -> None:
    result = rotor(read(AS_FOUND), NOT_YET, read(AS_LEFT))
    assert result.found == "1, 2 open; 3, 4 closed"
    assert [advice.turn for advice in result.advised] == ["counterclockwise"]
    assert result.left == "1, 2 closed; 3, 4 open"
    assert result.agrees is True


def test_contacts_that_were_left_otherwise_are_said_to_be() -> None:
    result = rotor(read(AS_FOUND), NOT_YET, read({**AS_LEFT, 3: CLOSED}))
    assert result.agrees is False


def test_nothing_is_left_before_it_was_confirmed() -> None:
    assert rotor(read(AS_FOUND), NOT_YET).left is None
    assert rotor(read(AS_FOUND), NOT_YET).agrees is None
    heard_only = {"kind": "heard", "meant": to_json(ContactStates.of(AS_LEFT))}
    assert rotor(read(AS_FOUND), NOT_YET, heard_only).left is None


def test_not_every_contact_confirmed_is_no_agreement() -> None:
    result = rotor(read(AS_FOUND), NOT_YET, read({1: CLOSED, 2: CLOSED, 3: OPEN}))
    assert result.agrees is None


def test_a_misread_before_the_advice_is_not_as_found() -> None:
    misread = {**AS_FOUND, 3: OPEN}
    seen = summary(read(misread), advised("contradiction", None, {}), read(AS_FOUND), NOT_YET)
    (result,) = seen.rotors
    assert result.found == "1, 2 open; 3, 4 closed"
    assert len(result.advised) == 2
    assert [remark.seq for remark in seen.remarks] == [3]


def test_contacts_of_another_rotor_do_not_count() -> None:
    result = rotor(read(AS_FOUND), NOT_YET, read({5: OPEN, 6: OPEN}), read(AS_LEFT))
    assert result.left == "1, 2 closed; 3, 4 open"


def test_an_advice_whose_record_holds_the_reading_counts_it_as_found() -> None:
    assert rotor({**read(AS_FOUND), **NOT_YET, "kind": "heard"}).found == "1, 2 open; 3, 4 closed"


# The exchange.


def test_an_exchange_says_what_was_said_heard_meant_and_confirmed() -> None:
    body = {
        "kind": "heard",
        "step": "read-open",
        "said": ["Read contacts one to four."],
        "heard": {"text": "one two open", "confidence": 0.75, "seconds": 1.2, "engine": "typed"},
        "meant": {"contacts": {"1": "open", "2": "open"}},
        "clip": {"file": "clips/0001.wav", "sha256": "00" * 32},
    }
    (row,) = summary(body).exchanges
    assert (row.step, row.said) == ("read-open", ("Read contacts one to four.",))
    assert (row.heard, row.confidence, row.engine) == ("one two open", 0.75, "typed")
    assert (row.meant, row.confirmed, row.clip) == ("1, 2 open", (), "clips/0001.wav")
    assert (row.day, row.clock) == ("2031-05-14", "08:02:00")


def test_what_was_not_understood_has_no_meaning() -> None:
    (row,) = summary({"kind": "heard", "heard": {"text": "the weather"}, "meant": None}).exchanges
    assert (row.heard, row.meant) == ("the weather", None)


@pytest.mark.parametrize("kind", ["silent", "silence"])
def test_silence_is_a_row(kind: str) -> None:
    (row,) = summary({"kind": kind, "said": ["Once more."]}).exchanges
    assert row.silent


def test_the_next_best_reading_is_shown() -> None:
    rival = to_json(ContactStates.of({1: OPEN}))
    (row,) = summary({"kind": "heard", "heard": {"text": "x"}, "rival": rival}).exchanges
    assert row.rival == "1 open"


@pytest.mark.parametrize(
    ("body", "what", "why"),
    [
        ({"kind": "returned", "said": ["Again."]}, "Interrupted and continued", "Again."),
        ({"kind": "heard", "deviations": ["Too fast."]}, "Deviation", "Too fast."),
        (
            {"kind": "heard", "skipped": {"step": "label", "by": "technician"}},
            "Step skipped",
            "label, by technician",
        ),
        (
            {"kind": "heard", "hold_closed": {"reason": "Live.", "by": "checker"}},
            "Hold closed by checker",
            "Live.",
        ),
        (
            {"kind": "heard", "proved": ["rods-engaged"]},
            "Proved again before going on",
            "rods engaged",
        ),
    ],
)
def test_what_a_reader_must_not_miss_is_a_remark(
    body: dict[str, object], what: str, why: str
) -> None:
    (remark,) = summary(body).remarks
    assert (remark.seq, remark.what, remark.why) == (2, what, why)


def test_answers_that_no_longer_count_are_marked() -> None:
    (remark,) = summary({"kind": "heard", "went_back": "open-end/set/read"}).remarks
    assert remark.what.startswith("Went back")
    assert remark.why == "open-end/set/read"


def test_a_hold_is_a_remark_with_its_reason() -> None:
    hold = to_json(Command(Word.HOLD))
    for body in ({"kind": "silent", "held": "no reply"}, {"kind": "heard", "held": "no reply"}):
        (remark,) = summary({**body, "meant": hold}).remarks
        assert (remark.what, remark.why) == ("Hold", "no reply")


def test_a_dictated_note_is_a_remark_that_names_its_clip() -> None:
    clip = {"file": "clips/0003.wav", "sha256": "00" * 32}
    (remark,) = summary({"kind": "heard", "note": True, "clip": clip}).remarks
    assert (remark.what, remark.why) == ("Note", "clips/0003.wav")


@pytest.mark.parametrize(
    ("clip", "words"),
    [({"file": "clips/0003.wav", "sha256": "00" * 32}, "clips/0003.wav"), (None, "rust")],
)
def test_a_reason_is_a_remark_of_the_entry_that_agrees_on_it(clip: object, words: str) -> None:
    own = {"file": "clips/0004.wav", "sha256": "00" * 32}
    body = {"kind": "heard", "heard": {"text": "yes"}, "clip": own}
    (remark,) = summary({**body, "note": {"text": "rust", "clip": clip}}).remarks
    assert (remark.what, remark.why) == ("Reason given", words)


def test_a_hold_that_was_asked_for_is_a_remark() -> None:
    (remark,) = summary({"kind": "heard", "meant": to_json(Command(Word.HOLD))}).remarks
    assert remark.what == "Hold asked for"


def test_recorded_values_keep_their_units() -> None:
    body = {
        "kind": "computed",
        "recorded": [
            {"name": "trip error", "value": -0.3, "unit": "%"},
            {"name": "seating", "value": "torque", "unit": None},
            {"name": "left", "value": to_json(ContactStates.of(AS_LEFT))},
        ],
    }
    values = [(value.name, value.value, value.unit) for value in summary(body).recorded]
    assert values == [
        ("trip error", "-0.3", "%"),
        ("seating", "torque", ""),
        ("left", "1, 2 closed; 3, 4 open", ""),
    ]


@pytest.mark.parametrize(
    ("meaning", "text"),
    [
        (ContactStates.of({9: OPEN, 10: CLOSED, 11: OPEN}), "9, 11 open; 10 closed"),
        (ShaftTurn(Rotation.CLOCKWISE), "clockwise"),
        (Quantity(1.5, "turns"), "1.5 turns"),
        (Quantity(62.0, None), "62"),
        (Quantity(1234567.25, "turns"), "1234567.25 turns"),
        (Choice("torque"), "torque"),
        (Spelling("KF07"), "KF07"),
        (Command(Word.SAY_AGAIN), "say again"),
        (Correction(ContactStates.of({1: OPEN})), "wrong: 1 open"),
    ],
)
def test_each_meaning_in_a_readers_words(meaning: Meaning, text: str) -> None:
    assert in_words(to_json(meaning)) == text


@pytest.mark.parametrize(
    ("text", "shown"),
    [("a\nb\t c", "a b c"), ("ab\u202edc", "ab\ufffddc"), ("a\x00b\x1b[31m", "a\ufffdb\ufffd[31m")],
    ids=["lines", "right-to-left override", "control characters"],
)
def test_what_would_not_show_is_shown(text: str, shown: str) -> None:
    assert in_words(text) == shown


values = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 99) | st.floats(-9, 9) | st.text(max_size=6),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["contacts", "1", "22", "file", "rotor", "leave", "turn", "text", "²"]),
            inner | st.sampled_from(["open", "closed"]),
            max_size=3,
        )
    ),
    max_leaves=6,
)
names = st.sampled_from(
    ["said", "heard", "meant", "confirmed", "clip", "advice", "recorded", "step", "reason", "job"]
)


@given(st.lists(st.dictionaries(names, values, max_size=5), max_size=4))
def test_no_form_of_an_entry_stops_the_record(bodies: list[dict[str, Any]]) -> None:
    kinds = ("heard", "silence", "held", "ended")
    made = [{**body, "kind": kind} for body, kind in zip(bodies, kinds, strict=False)]
    assert "</html>" in render(summary(*made), {})
    if made:
        first = {**OPENED, **made[0], "kind": "opened"}
        assert "</html>" in render(summarise([chain.link(None, 1, OPENING, first)]), {})


OPENING = "2031-05-14T08:00:00.000Z"


# What the procedure records of a rotor comes before what its readings let one think.


def recorded(name: str, written: Any, value: str = "x") -> dict[str, Any]:
    return {
        "kind": "heard",
        "recorded": [
            {"name": name, "kind": "x", "value": value, "rotor": "open", "written": written}
        ],
    }


def test_a_reading_at_the_proof_is_not_how_the_contacts_were_left() -> None:
    set_ = recorded("open-end/set/after-setting", to_json(ContactStates.of(AS_LEFT)))
    result = rotor(read(AS_FOUND), NOT_YET, read(AS_LEFT), set_, read(AS_FOUND))
    assert result.left == "1, 2 closed; 3, 4 open"
    assert result.agrees is True


@pytest.mark.parametrize("within", [True, False])
def test_the_trip_that_was_proved_is_as_left(within: bool) -> None:
    trip = {"percent": 98.4, "error": -0.01, "turns": 61.0, "within": within}
    result = rotor(read(AS_FOUND), NOT_YET, recorded("prove-open/as-left", trip))
    assert result.trip is not None
    assert (result.trip.percent, result.trip.error) == (98.4, -0.01)
    assert result.trip.within is within


def test_a_proof_from_before_the_shaft_was_turned_again_is_none() -> None:
    trip = {"percent": 98.4, "error": -0.01, "turns": 61.0, "within": True}
    proof = recorded("prove-open/as-left", trip)
    assert rotor(read(AS_FOUND), NOT_YET, proof, read(AS_FOUND), NOT_YET).trip is None
    assert rotor(read(AS_FOUND), NOT_YET, proof, NOT_YET, proof).trip is not None


def test_a_rotor_that_was_left_as_found_has_no_advice_and_is_shown() -> None:
    body = recorded("open-end/as-found", None, "The open rotor changes over as drawn.")
    (result,) = summary(body).rotors
    assert result.advised == ()
    assert result.trip_found == "The open rotor changes over as drawn."
    assert result.trip is None


def test_the_papers_of_a_job_stand_first() -> None:
    first = {**OPENED, "job": {"unit_file": "u", "papers": {"technician": "RV"}}}
    made = chain.link(None, 1, "2031-05-14T08:01:00.000Z", first)
    assert summarise([made]).job[0] == Field("technician", "RV")
