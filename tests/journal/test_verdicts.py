"""A second person's verdicts: what is heard, what stays open, and what is compared.

Sources: DOE-STD-1036-93 (independent: another person, later, apart, own readings); 21 CFR 11.50
(a signature has name, time and meaning).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from assistant.journal.confirmations import confirmations
from assistant.journal.entry import Entry, opening
from assistant.journal.independent import compare, visit_of
from assistant.journal.verdicts import (
    HEARD_MEANING,
    READ_MEANING,
    compared,
    counts_of,
    judged,
    open_disagreements,
    signature_of,
    signed,
    verdicts_by,
)
from assistant.trade.verification import independence_faults
from tests.journal.chained import chained
from tests.units import KF_07


def journal(
    *bodies: dict[str, Any], papers: dict[str, str] | None = None, hour: int = 8
) -> list[Entry]:
    unit = {"tag": "KF-07", "drawing": "KF-E-207", "revision": "C"}
    named = papers or {"technician": "RV", "checker": "JT"}
    opened = opening({"papers": named}, {}, unit, {}, "t")
    return chained((opened, *bodies), lambda number: f"2031-05-14T{hour:02d}:{number:02d}:00.000Z")


def answer(step: str, meant: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"kind": "heard", "step": step, "confirmed": {step: meant}, **more}


READ = {"contacts": {"1": "open"}}


def trip(name: str, rotor: str, percent: float) -> dict[str, Any]:
    written = {"percent": percent, "error": 0.0, "turns": 1.0, "within": True}
    value = {"name": name, "rotor": rotor, "kind": "trip", "value": "x", "written": written}
    return {"kind": "heard", "step": "s", "recorded": [value]}


def test_everything_that_decides_is_heard_and_done_only_where_it_proves_something() -> None:
    done, yes = {"command": "done"}, {"command": "yes"}
    entries = journal(
        answer("reading", READ),
        answer("dead", yes),
        answer("work", done),
        answer("rod-in", done),
        answer("begun", {"command": "mark"}),
        answer("sign", {"role": "checker", "agrees": True}),
        {"kind": "heard", "step": "crank", "meant": yes, "proved": ["isolated"]},
    )
    heard = [one.step for one in confirmations(entries, {"rod-in"})]
    assert heard == ["reading", "dead", "rod-in", "begun", "sign", "crank"]
    assert "rod-in" not in [one.step for one in confirmations(entries)]


def test_the_recordings_of_a_whole_exchange_go_with_its_confirmation() -> None:
    clips = [{"file": f"clips/000{n}.wav", "sha256": "0" * 64} for n in (1, 2)]
    entries = journal(
        {"kind": "heard", "step": "a", "clip": clips[0], "said": ["I heard one open. Correct?"]},
        answer("a", READ, clip=clips[1]),
    )
    (one,) = confirmations(entries)
    assert [file for file, _ in one.clips] == ["clips/0001.wav", "clips/0002.wav"]


CLIP = {"file": "clips/0001.wav", "sha256": "0" * 64}


def reply(engine: str, meant: dict[str, Any], **more: Any) -> dict[str, Any]:
    clip = None if engine in ("typed", "pressed") else CLIP
    heard = {"engine": engine, "text": "x", "confidence": 1.0, "seconds": 0.0}
    return {"kind": "heard", "step": "a", "heard": heard, "meant": meant, "clip": clip, **more}


YES = {"command": "yes"}


@pytest.mark.parametrize(
    ("replies", "unrecorded"),
    [
        ([("moonshine", READ), ("moonshine", YES)], ""),
        ([("moonshine", READ), ("pressed", YES)], ""),  # what was read back was heard
        ([("typed", READ), ("typed", YES)], "typed"),
        ([("typed", READ), ("moonshine", YES)], "typed"),
        ([("pressed", {"command": "say-again"}), ("moonshine", READ), ("moonshine", YES)], ""),
    ],
)
def test_what_was_typed_or_pressed_has_no_recording(
    replies: list[tuple[str, dict[str, Any]]], unrecorded: str
) -> None:
    *before, last = [reply(*one) for one in replies]
    (one,) = confirmations(journal(*before, {**last, "confirmed": {"a": READ}}))
    assert one.unrecorded == unrecorded


def test_a_yes_that_was_pressed_has_no_recording_though_something_was_heard_before() -> None:
    unclear = reply("moonshine", {"command": "help"})
    entries = journal(unclear, reply("pressed", YES, confirmed={"a": YES}))
    (one,) = confirmations(entries)
    assert (one.unrecorded, len(one.clips)) == ("pressed", 1)


def test_an_answer_that_was_taken_back_is_not_heard() -> None:
    back = {"kind": "heard", "step": "b", "went_back": "b"}
    entries = journal(answer("a", READ), answer("b", {"command": "yes"}), back)
    assert [one.step for one in confirmations(entries)] == ["a"]
    assert not list(confirmations(journal(answer("a", READ), {**back, "went_back": "a"})))


def verdicts(*agrees: bool) -> Iterator[dict[str, Any]]:
    return (judged(2, "a", "JT", agrees=one) for one in agrees)


@pytest.mark.parametrize(
    ("agrees", "is_open"), [((True,), False), ((False,), True), ((False, True), False)]
)
def test_a_disagreement_is_open_until_a_later_verdict_agrees(
    agrees: tuple[bool, ...], is_open: bool
) -> None:
    entries = journal(answer("a", READ), *verdicts(*agrees))
    left = list(open_disagreements(entries))
    assert bool(left) is is_open
    assert verdicts_by(entries, "jt")[2].body["agrees"] is not is_open
    assert not verdicts_by(entries, "AB")  # what another heard
    if left:
        assert (left[0].of, left[0].step, left[0].by) == (2, "a", "JT")
        assert "line 2" in left[0].to_clear


def test_another_persons_agreement_is_shown_and_leaves_a_disagreement_open() -> None:
    disagrees, agrees = (judged(2, "a", by, agrees=by == "ZZ") for by in ("JT", "ZZ"))
    (one,) = open_disagreements(journal(answer("a", READ), disagrees, agrees))
    assert (one.by, one.what) == ("JT", "the confirmation of line 2, at a (ZZ does)")
    both = journal(answer("a", READ), disagrees, {**agrees, "agrees": False})
    assert [one.by for one in open_disagreements(both)] == ["JT", "ZZ"]


def test_a_verdict_goes_with_the_line_that_is_taken_back() -> None:
    back = {"kind": "heard", "step": "b", "went_back": "a"}
    verdict = judged(2, "a", "JT", agrees=False)
    entries = journal(answer("a", READ), verdict, back, answer("a", READ))
    assert not list(open_disagreements(entries))
    assert not verdicts_by(entries, "JT")


def test_a_verdict_outlives_going_back_to_a_later_step() -> None:
    """The verdict itself stands among the lines that were gone back over."""
    back = {"kind": "heard", "step": "c", "went_back": "b"}
    entries = journal(answer("a", READ), answer("b", READ), *verdicts(False), back)
    assert [one.of for one in open_disagreements(entries)] == [2]


def test_what_clears_a_disagreement_is_what_can_be_done() -> None:
    bodies = (answer("a", READ), *verdicts(False))
    (under_way,) = open_disagreements(journal(*bodies))
    assert "go back to line 2" in under_way.to_clear
    (ended,) = open_disagreements(journal(*bodies, answer("b", READ, finished=True)))
    assert "a new job takes the reading again" in ended.to_clear


def test_a_signature_has_name_and_meaning_and_its_entry_has_the_time() -> None:
    heard = (judged(line, "a", "JT", agrees=True, meaning=HEARD_MEANING) for line in (2, 3))
    read = judged(4, "a", "JT", agrees=False, meaning=READ_MEANING)
    answers = (answer(step, READ) for step in "abc")
    counts = counts_of(verdicts_by(journal(*answers, *heard, read), "JT").values())
    body = signed("JT", counts)
    assert body["by"] == "JT"
    assert (body["agreed"], body["disagreed"], body["heard"], body["read"]) == (2, 1, 2, 1)
    assert "read 1 of 3, which has no recording" in body["meaning"]
    assert journal(body)[-1].time


@pytest.mark.parametrize(("second", "agrees"), [(98.4, True), (98.9, True), (99.0, False)])
def test_trips_are_compared_within_the_tolerance_of_the_sheet(second: float, agrees: bool) -> None:
    # The tolerance of the invented sheet is 0.5 %.
    first = journal(trip("prove-open/as-left", "open", 98.4))
    check = journal(trip("check-open/prove/as-left", "open", second), hour=12)
    found = {point.what: point.agrees for point in compare(KF_07, first, check)}
    assert found["trip of the open rotor"] is agrees
    assert found["trip of the closed rotor"] is False
    assert found["revision"] is True


def test_an_independent_check_that_differs_is_open_until_another_agrees() -> None:
    first = journal(trip("prove-open/as-left", "open", 98.4))
    points = compare(KF_07, first, journal(hour=12))
    entries = journal(compared("JT", "0" * 64, points))
    (one,) = open_disagreements(entries)
    assert "trip of the open rotor" in one.what
    assert not list(open_disagreements(journal(compared("JT", "0" * 64, []))))


def test_a_check_that_is_compared_again_clears_no_later_one() -> None:
    """Only a new one does: the readings of the older were known when the later one differed."""
    agrees, new = (compared(by, root * 64, []) | {"agrees": True} for by, root in ("Aa", "Ec"))
    differs = {**agrees, "by": "CD", "with_root": "b" * 64, "agrees": False}
    for repeated in ((), (agrees,), (agrees, {**differs, "agrees": True})):
        (one,) = open_disagreements(journal(agrees, differs, *repeated))
        assert (one.by, one.seq) == ("CD", 3)
    assert not list(open_disagreements(journal(agrees, differs, agrees, new)))
    (again,) = open_disagreements(journal(agrees, {**agrees, "agrees": False}))
    assert again.seq == 3  # what differs holds, whenever it is found


def test_a_signature_stands_until_that_person_judges_again() -> None:
    verdict = judged(2, "a", "JT", agrees=True)
    counts = counts_of(verdicts_by(journal(answer("a", READ), verdict), "JT").values())
    done = (answer("a", READ), verdict, signed("JT", counts))
    other = judged(2, "a", "AB", agrees=False)
    for more in ((), (other,), (other, signed("AB", counts))):
        standing = signature_of(journal(*done, *more), "j.t.", counts)
        assert standing is not None
        assert standing.seq == 4
    assert signature_of(journal(*done[:2]), "JT", counts) is None
    assert signature_of(journal(*done, verdict), "JT", counts) is None
    assert signature_of(journal(*done), "AB", counts) is None
    # The first signatures did not tell what was heard and what was read.
    first = {name: told for name, told in done[2].items() if name not in ("heard", "read")}
    assert signature_of(journal(*done[:2], first), "JT", counts) is None


def seen(word: str) -> dict[str, Any]:
    return answer("apart", {"command": word})


@pytest.mark.parametrize(
    ("checker", "hour", "had_seen", "faults"),
    [
        ("JT", 12, "no", 0),
        ("r.v.", 12, "no", 1),
        ("JT", 8, "no", 1),
        ("JT", 12, "yes", 1),
        ("RV", 8, "yes", 3),
    ],
)
def test_independent_is_another_person_later_who_has_not_seen(
    checker: str, hour: int, had_seen: str, faults: int
) -> None:
    first = visit_of(journal(answer("a", READ), answer("b", READ)), "technician")
    papers = {"technician": "RV", "checker": checker}
    second = visit_of(journal(seen(had_seen), papers=papers, hour=hour), "checker")
    assert len(independence_faults(first, second)) == faults


def test_a_job_that_does_not_say_who_did_it_is_refused() -> None:
    with pytest.raises(ValueError, match="who the checker was"):
        visit_of(journal(papers={"technician": "RV"}), "checker")
