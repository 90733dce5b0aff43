"""What the record shows beside the rotors: lamps, times, signatures, cautions, what is open."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from assistant.journal.entry import Entry, opening
from assistant.journal.standing import standing, taken_back
from assistant.language.meaning import Quantity, to_json
from assistant.procedure.deeds import Fact
from assistant.procedure.load import load_program
from assistant.record.beside import Beside
from assistant.record.headline import five_lines, open_points
from assistant.record.signatures import Due, due_in
from assistant.record.stands import how_it_stands
from assistant.record.summary import Field, Summary, summarise
from assistant.rig.as_found import Found, Setting, built
from assistant.trade.motion import Rotation
from assistant.trade.unit import Sourced, Unit
from tests.journal.chained import chained
from tests.journal.rehearsed import job
from tests.session.job import PROCEDURES
from tests.units import KF_07, KF_12

PAPERS = {"technician": "RV", "checker": "JT", "work-order": "W417"}

SHEET = replace(KF_07, stated_seconds=Sourced(51.0, "seconds", "commissioning record"))


def entries(*bodies: dict[str, Any]) -> list[Entry]:
    opened = opening(
        {"papers": PAPERS},
        {},
        {"tag": "KF-07", "drawing": "KF-E-207", "revision": "C"},
        {"name": "set-geared-limits", "title": "Set the limit switches", "revision": "2"},
        "0.1.0",
    )
    opened["numbers"] = {"stroke-turns": {"value": 62, "unit": "turns", "origin": "counted"}}
    return chained((opened, *bodies))


DUE = (Due("technician", "technician"), Due("checker", "checker"))
"""Who has to sign, each with the paper that names the person."""


def summary(
    *bodies: dict[str, Any],
    unit: Unit | None = SHEET,
    due: tuple[Due, ...] | None = DUE,
    beside: Beside = Beside(),  # noqa: B008 - frozen
) -> Summary:
    return summarise(entries(*bodies), unit, due, beside)


def recorded(name: str, written: Any, rotor: str = "", **more: Any) -> dict[str, Any]:
    value = {"name": name, "kind": "x", "value": "spoken", "written": written}
    return {"kind": "heard", "recorded": [value | ({"rotor": rotor} if rotor else {})], **more}


def trip(name: str, rotor: str, percent: float, error: float, within: bool) -> dict[str, Any]:
    return recorded(name, {"percent": percent, "error": error, "within": within}, rotor)


def lamps(name: str, *lit: str) -> dict[str, Any]:
    return recorded(f"test/{name}", {"lit": list(lit)})


def signed(meaning: str, name: str) -> dict[str, Any]:
    values = [
        {"name": f"finish/signed-{meaning}", "value": "spelled", "written": name},
        {
            "name": f"finish/signed-{meaning}-at",
            "value": "09:57",
            "written": "2031-05-14T09:57:00+00:00",
        },
    ]
    role = {"done": "technician", "checked": "checker"}[meaning]
    agreed = {f"finish/sign-{role}": {"role": role, "agrees": True}}
    clip = {"file": "clips/0001.wav", "sha256": "00" * 32}
    return {"kind": "heard", "recorded": values, "confirmed": agreed, "clip": clip}


RIGHT = (
    trip("prove-open/as-left", "open", 98.387, -0.013, True),
    trip("prove-closed/as-left", "closed", 2.419, 0.019, True),
)
TESTED = (
    lamps("lamps-in-travel", "closed lamp", "open lamp"),
    lamps("lamps-when-closed", "closed lamp"),
    lamps("lamps-when-open", "open lamp"),
    recorded("test/stroke-time", to_json(Quantity(50.3, "seconds"))),
)
SIGNED = (signed("done", "RV"), {**signed("checked", "JT"), "finished": True})


def test_a_job_that_was_done_as_it_should_be_leaves_nothing_open() -> None:
    seen = summary(*RIGHT, *TESTED, *SIGNED)
    assert open_points(seen) == ()
    assert five_lines(seen) == (
        Field("unit", "KF-07, gate valve; drawing KF-E-207 revision C"),
        Field("order", "W417"),
        Field("people", "checker JT, technician RV"),
        Field(
            "done",
            "Set the limit switches. No rotor was set. 2031-05-14 08:01:00 to 08:09:00 UTC.",
        ),
        Field("verdict", "Every rotor within tolerance. Nothing is open."),
    )


@pytest.mark.parametrize(
    ("bodies", "point"),
    [
        ((*RIGHT, *TESTED, SIGNED[0]), "the job is not at its end"),
        ((*RIGHT, *TESTED, SIGNED[1]), "not signed by technician RV"),
        ((RIGHT[0], *TESTED, *SIGNED), "rotor closed not proved by hand"),
        (
            (RIGHT[0], trip("x/as-left", "closed", 3.2, 0.8, False), *TESTED, *SIGNED),
            "rotor closed out of tolerance",
        ),
        (
            (*RIGHT, *TESTED, lamps("lamps-when-open", "closed lamp"), *SIGNED),
            "lamps open, stopped by itself not as drawn",
        ),
        ((*RIGHT, *TESTED[1:], *SIGNED), "lamps in travel not recorded"),
        (
            (
                *RIGHT,
                *TESTED,
                recorded("test/stroke-time", to_json(Quantity(60.0, "seconds"))),
                *SIGNED,
            ),
            "stroke time out of tolerance",
        ),
        (
            (*RIGHT, *TESTED, {"kind": "heard", "deviations": ["Too fast."]}, *SIGNED),
            "1 deviation (“Too fast”, line 8)",
        ),
        (
            (*RIGHT, *TESTED, {"kind": "heard", "skipped": {"step": "a", "by": "b"}}, *SIGNED),
            "1 skipped step (“a, by b”, line 8)",
        ),
        (
            (*RIGHT, *TESTED, {"kind": "heard", "note": True}, *SIGNED),
            "1 note to read, line 8",
        ),
    ],
)
def test_each_thing_that_is_open_is_named_in_the_verdict(
    bodies: tuple[dict[str, Any], ...], point: str
) -> None:
    seen = summary(*bodies)
    assert open_points(seen) == (point,)
    assert five_lines(seen)[-1].text.endswith(f"Open: {point}.")


def test_no_rotor_is_within_tolerance_that_was_not_proved() -> None:
    assert "within tolerance" not in five_lines(summary(RIGHT[0]))[-1].text
    assert "within tolerance" not in five_lines(summary())[-1].text


def test_a_hold_at_which_the_job_stopped_is_named() -> None:
    said = {"kind": "heard", "held": "Get the permit first."}
    seen = summary(said, beside=Beside(held=True))
    assert open_points(seen) == ("the job is not at its end (on hold: Get the permit first.)",)
    # It may have been closed since, or nobody knows.
    assert open_points(summary(said)) == ("the job is not at its end",)


# Going back: what was undone proves nothing any more.


def proof(percent: float, error: float, within: bool) -> dict[str, Any]:
    body = trip("prove-open/as-left", "open", percent, error, within)
    return {**body, "confirmed": {"prove-open/on": {"command": "mark"}}}


BACK = {"kind": "heard", "went_back": "prove-open/on"}


def test_a_proof_that_was_taken_back_is_none() -> None:
    seen = summary(proof(98.4, 0.0, True), {"kind": "heard"}, BACK)
    assert [rotor.trip for rotor in seen.rotors] == []
    assert [value.counts for value in seen.recorded] == [False]
    anew = summary(proof(98.4, 0.0, True), BACK, proof(99.4, 1.0, False))
    assert [rotor.trip and rotor.trip.percent for rotor in anew.rotors] == [99.4]
    assert [value.counts for value in anew.recorded] == [False, True]


def test_only_the_last_answer_of_a_step_is_taken_back() -> None:
    made = entries(proof(98.4, 0.0, True), proof(98.5, 0.1, True), {"kind": "heard"}, BACK)
    assert taken_back(made) == {3, 4}
    assert [entry.seq for entry in standing(made)] == [1, 2, 5]


def test_a_step_that_was_never_answered_takes_nothing_back() -> None:
    assert taken_back(entries(proof(98.4, 0.0, True), {**BACK, "went_back": "other"})) == set()


# Trips: the error in turns is that part of the stroke.


def test_an_error_in_turns_is_that_part_of_the_stroke() -> None:
    (result, _) = summary(*RIGHT).rotors
    assert result.trip is not None
    assert result.trip.error_turns == pytest.approx(-0.013 / 100 * 62)


def test_the_picture_has_every_contact_and_every_trip_that_is_known_in_numbers() -> None:
    as_found = trip("open-end/trip-as-found", "open", 89.52, -8.88, False)
    drawn = summary(as_found, *RIGHT).development
    assert drawn is not None
    lines = {line.number: line.closed for rotor in drawn.rotors for line in rotor.contacts}
    assert lines == dict(SHEET.development.closed)
    marks = {rotor.name: [(m.kind, m.percent) for m in rotor.marks] for rotor in drawn.rotors}
    assert marks == {
        "open": [("drawn", 98.4), ("found", 89.52), ("left", 98.387)],
        "closed": [("drawn", 2.4), ("left", 2.419)],
    }
    rows = [rotor.row for rotor in drawn.rotors]
    rows += [line.row for rotor in drawn.rotors for line in rotor.contacts]
    rows += [mark.row for rotor in drawn.rotors for mark in rotor.marks]
    assert sorted(rows) == list(range(1, drawn.rows))


def test_a_trip_outside_the_stroke_is_drawn_at_its_end() -> None:
    drawn = summary(trip("open-end/trip-as-found", "open", 101.5, 3.1, False)).development
    assert drawn is not None
    assert [(mark.percent, mark.at) for mark in drawn.rotors[0].marks] == [
        (98.4, 98.4),
        (101.5, 100.0),
    ]


def test_a_trip_that_is_recorded_in_words_alone_is_not_drawn() -> None:
    seen = summary(recorded("open-end/as-found", "The open rotor changes over.", "open"))
    assert seen.rotors[0].found_at is None
    assert seen.development is not None
    assert [mark.kind for mark in seen.development.rotors[0].marks] == ["drawn"]


def test_four_rotors_are_drawn_and_those_untouched_are_open() -> None:
    seen = summary(*RIGHT, *SIGNED, unit=KF_12)
    assert seen.development is not None
    assert len(seen.development.rotors) == 4
    assert open_points(seen) == (
        "rotor third not proved by hand",
        "rotor fourth not proved by hand",
    )


def test_without_a_unit_sheet_there_is_no_picture() -> None:
    seen = summary(*RIGHT, *TESTED, unit=None)
    assert (seen.development, seen.lamps, seen.stroke) == (None, (), None)


# Lamps: common practice, no source: only the closed lamp at the closed end, both in travel, only
# the open lamp past the open limit.


def test_the_lamps_of_each_zone_are_those_of_the_drawing() -> None:
    zones = summary(*TESTED).lamps
    assert [set(zone.expected) for zone in zones] == [
        {"closed lamp", "open lamp"},
        {"closed lamp"},
        {"open lamp"},
    ]
    assert [zone.agrees for zone in zones] == [True, True, True]


def test_the_lamps_seen_last_count() -> None:
    zones = summary(lamps("lamps-when-closed"), lamps("lamps-when-closed", "open lamp")).lamps
    assert [zone.seen for zone in zones] == [None, ("open lamp",), None]
    assert [zone.agrees for zone in zones] == [None, False, None]


@pytest.mark.parametrize(
    ("seconds", "within"), [(46.0, True), (45.8, False), (56.0, True), (56.2, False)]
)
def test_a_stroke_time_is_held_against_the_data(seconds: float, within: bool) -> None:
    # 51 seconds and 10 percent of it: 45.9 to 56.1.
    stroke = summary(recorded("t/stroke-time", to_json(Quantity(seconds, "seconds")))).stroke
    assert stroke is not None
    assert (stroke.seconds, stroke.data, stroke.within) == (seconds, 51.0, within)


def test_a_stroke_time_without_data_is_not_judged() -> None:
    body = recorded("t/stroke-time", to_json(Quantity(50.0, "seconds")))
    stroke = summary(body, unit=KF_07).stroke
    assert stroke is not None
    assert (stroke.data, stroke.within) == (None, None)


# A signature shows name, date and time, and meaning (21 CFR 11.50).


def test_a_signature_has_name_meaning_question_and_time() -> None:
    asked = "Technician, done as recorded?"
    (signature,) = summary({"kind": "heard", "said": ["So.", asked]}, SIGNED[0]).signatures
    assert (signature.name, signature.meaning, signature.asked) == ("RV", "done", asked)
    assert signature.time == "2031-05-14T09:57:00+00:00"


def test_a_signature_that_was_taken_back_is_none() -> None:
    body = {**SIGNED[0], "confirmed": {"finish/sign": {"role": "technician", "agrees": True}}}
    assert summary(body, {"kind": "heard", "went_back": "finish/sign"}).signatures == ()


def test_a_refusal_to_sign_is_no_signature() -> None:
    # The procedure records the name with the answer, whichever it was.
    refused = {"finish/sign-technician": {"role": "technician", "agrees": False}}
    seen = summary(*RIGHT, *TESTED, {**SIGNED[0], "confirmed": refused}, SIGNED[1])
    assert [one.name for one in seen.signatures] == ["JT"]
    assert "not signed by technician RV" in open_points(seen)


def test_whoever_signs_in_another_role_has_not_signed_in_the_one_that_is_demanded() -> None:
    # RV signs as checker: the name of the technician stands below the record, but not as his.
    as_checker = {"finish/sign-checker": {"role": "checker", "agrees": True}}
    seen = summary(*RIGHT, *TESTED, {**SIGNED[0], "confirmed": as_checker, "finished": True})
    assert open_points(seen) == (
        "not signed by technician RV",
        "signed as checker by RV, who is not JT",
    )


def test_a_review_is_no_signature_of_the_checker_that_the_procedure_demands() -> None:
    reviewed = {"kind": "reviewed", "by": "JT", "meaning": "heard every confirmation"}
    seen = summary(*RIGHT, *TESTED, {**SIGNED[0], "finished": True}, reviewed)
    assert open_points(seen) == ("not signed by checker JT",)


def test_whom_the_procedure_does_not_ask_need_not_sign() -> None:
    # An independent check names the first technician in its papers; only the checker signs it.
    seen = summary(*RIGHT, *TESTED, SIGNED[1], due=DUE[1:])
    assert open_points(seen) == ()
    unknown = summary(*RIGHT, *TESTED, *SIGNED, due=None)
    assert open_points(unknown) == (
        "the procedure is missing or was changed: it is not known who has to sign",
    )


@pytest.mark.parametrize(
    ("procedure", "due"),
    [
        ("set-geared-limits.yaml", DUE),
        ("second-check.yaml", DUE[1:]),
        ("graft-scion.yaml", ()),
    ],
)
def test_who_has_to_sign_is_what_the_procedure_asks(procedure: str, due: tuple[Due, ...]) -> None:
    assert due_in(load_program(PROCEDURES / procedure)) == due


def test_what_a_second_person_does_not_agree_with_is_open_and_a_review_is_signed() -> None:
    verdict = {"kind": "verdict", "of": 2, "step": "a", "agrees": False, "by": "JT"}
    ended = {"kind": "reviewed", "by": "JT", "meaning": "heard every confirmation"}
    seen = summary(verdict, ended)
    assert any("JT does not agree with the confirmation of line 2" in p for p in open_points(seen))
    assert [(one.name, one.meaning) for one in seen.signatures] == [
        ("JT", "heard every confirmation")
    ]
    agreed = summary(verdict, ended, {**verdict, "agrees": True})
    assert not agreed.disagreements


# A shaft that was found free: what was set and proved before shows nothing (common practice).

FREE = {
    "kind": "heard",
    "confirmed": {"test/shafts": {"choice": "free"}},
    "done": [{"step": "test/shafts", "outcome": "free"}],
}


def test_no_rotor_is_proved_any_more_once_a_shaft_was_found_free() -> None:
    seen = summary(*RIGHT, FREE, *TESTED, *SIGNED)
    assert [rotor.trip for rotor in seen.rotors] == [None, None]
    assert [rotor.was and rotor.was.percent for rotor in seen.rotors] == [98.387, 2.419]
    assert open_points(seen) == (
        "rotor open not proved by hand since line 4 (a shaft was found free)",
        "rotor closed not proved by hand since line 4 (a shaft was found free)",
    )
    assert "within tolerance" not in five_lines(seen)[-1].text
    voids = {value.short: value.void for value in seen.recorded if value.void}
    assert voids == {"as-left": "since line 4: a shaft was found free"}
    drawn = seen.development
    assert drawn is not None
    assert not [mark for rotor in drawn.rotors for mark in rotor.marks if mark.kind == "left"]


def test_proved_again_they_count_and_each_for_itself() -> None:
    again = summary(*RIGHT, FREE, *RIGHT, *TESTED, *SIGNED)
    assert open_points(again) == ()
    assert five_lines(again)[-1].text.startswith(
        "Every rotor within tolerance. A shaft was found free, line 4; every rotor was proved "
        "again since, lines 5 and 6. Nothing is open."
    )
    assert "again" not in five_lines(summary(FREE, *RIGHT, *TESTED, *SIGNED))[-1].text
    seen = summary(*RIGHT, FREE, RIGHT[0], *TESTED, *SIGNED)
    assert open_points(seen) == (
        "rotor closed not proved by hand since line 4 (a shaft was found free)",
    )


# Whether a rotor was set says that its contacts were read after its shaft had been turned.

ADVISED = {
    "kind": "heard",
    "advice": {"rotor": "open", "verdict": "already", "turn": "clockwise", "leave": {"1": "open"}},
}
AFTER = recorded("set/after-setting", {"contacts": {"1": "open"}}, "open")


def test_a_rotor_whose_shaft_was_not_turned_yet_is_begun_and_not_set() -> None:
    done = five_lines(summary(ADVISED))[3].text
    assert "No rotor was set" not in done
    assert "Begun, not set: open." in done
    assert "Rotors set: open." in five_lines(summary(ADVISED, AFTER))[3].text
    assert "Begun, not set: open." in five_lines(summary(ADVISED, AFTER, ADVISED))[3].text


def test_a_rotor_that_was_set_is_told_as_void_once_a_shaft_was_found_free() -> None:
    done = five_lines(summary(ADVISED, AFTER, RIGHT[0], FREE))[3].text
    assert "Rotors set" not in done
    assert "Set, and void since: open." in done
    assert (
        "Rotors set: open." in five_lines(summary(ADVISED, AFTER, RIGHT[0], FREE, RIGHT[0]))[3].text
    )


# A shaft that was to be turned is not turned back by going back over it.

SWEPT = recorded("find/at-closed-stop", {"contacts": {"1": "open"}}) | {
    "confirmed": {"find/read": {"contacts": {"1": "open"}}}
}
FOUND = trip("open-end/trip-as-found", "open", 89.516, -8.884, False)
AGAIN = trip("open-end/trip-as-found", "open", 98.387, -0.013, True)
LEFT = recorded("open-end/left-as-found", "Found as drawn.", "open")
TO_THE_STROKE = {"kind": "heard", "went_back": "find/read"}
UNDONE = (SWEPT, FOUND, ADVISED, AFTER, TO_THE_STROKE, SWEPT, AGAIN)


def test_a_shaft_that_was_to_be_turned_is_told_though_that_was_gone_back_over() -> None:
    seen = summary(*UNDONE, LEFT, *RIGHT, *TESTED, *SIGNED)
    assert open_points(seen) == (
        "rotor open: its shaft was to be turned at line 4, which was gone back over (as found "
        "first: 89.52 %)",
    )
    done = five_lines(seen)[3].text
    assert "No rotor was set" not in done
    assert "To be turned, and gone back over: open." in done
    (rotor, _) = seen.rotors
    assert rotor.found_void is not None
    assert (rotor.found_void.line, rotor.setting) == (4, "undone")
    voids = [value.void for value in seen.recorded if value.short == "trip-as-found"]
    assert voids == ["", "since line 4: its shaft was to be turned before it was read"]
    assert seen.development is not None
    marks = [(mark.kind, mark.percent) for mark in seen.development.rotors[0].marks]
    assert ("found", 89.516) in marks


def test_it_is_told_before_anything_is_read_again_too() -> None:
    seen = summary(*UNDONE[:5])
    assert [rotor.setting for rotor in seen.rotors] == ["undone"]
    assert "rotor open: its shaft was to be turned at line 4" in "; ".join(open_points(seen))


def test_a_later_direction_tells_it_unless_the_rotor_was_read_as_found_in_between() -> None:
    told = ADVISED | {"confirmed": {"set/read": {"contacts": {"1": "open"}}}}
    back = {"kind": "heard", "went_back": "set/read"}
    misread = summary(SWEPT, FOUND, told, back, told, AFTER)
    assert [(rotor.setting, rotor.undone) for rotor in misread.rotors] == [("set", None)]
    (rotor,) = summary(*UNDONE, ADVISED, AFTER).rotors
    assert rotor.undone is not None
    assert (rotor.setting, rotor.undone.lines) == ("set", (4,))


# Nothing is wrong with a rotor that was found right and stays (common practice, no source).


def test_a_rotor_that_was_left_as_found_is_told_and_no_deviation() -> None:
    found = {rotor.name: Found(Setting.AS_DRAWN, Rotation.CLOCKWISE) for rotor in KF_07.rotors}
    seen = summarise(job(built(KF_07, found)), KF_07, DUE)
    assert [rotor.setting for rotor in seen.rotors] == ["left", "left"]
    assert "No rotor was set. Left as found: open, closed." in five_lines(seen)[3].text
    assert open_points(seen) == ()
    (why, _) = (value.value for value in seen.recorded if value.short == "left-as-found")
    assert why == "The open rotor changes over at ninety eight point three nine percent, as drawn."


@pytest.mark.parametrize(
    ("known", "rod", "supplies"),
    [
        (
            {Fact.RODS_ENGAGED, Fact.ISOLATED},
            "Setting rod: engaged; the shafts were tried and are locked.",
            "Supplies: locked off.",
        ),
        ({Fact.ROD_OUT}, "Setting rod: disengaged; every shaft is free.", "not known"),
        ({Fact.ENERGISED}, "not known to be engaged", "Supplies: on."),
    ],
)
def test_an_unfinished_job_says_how_the_valve_stands(
    known: set[Fact], rod: str, supplies: str
) -> None:
    stands = how_it_stands(summary(RIGHT[0], beside=Beside(known=frozenset(known))))
    assert rod in stands[0]
    assert supplies in stands[1]
    assert stands[2:] == ("Not proved by hand: closed.",)


def test_how_it_stands_is_not_guessed() -> None:
    assert how_it_stands(summary(RIGHT[0])) == ()
    finished = summary(*SIGNED, beside=Beside(known=frozenset({Fact.ROD_OUT})))
    assert how_it_stands(finished) == ()


# What was kept: recordings, signatures by key, and how a signature was given.


def test_recordings_and_signatures_that_are_not_right_are_open() -> None:
    beside = Beside(lost_clips=(8, 9), signature_faults=("signature 1 is not right (changed)",))
    seen = summary(*RIGHT, *TESTED, *SIGNED, beside=beside)
    assert open_points(seen) == (
        "2 recordings missing or changed, lines 8 and 9",
        "signature 1 is not right (changed)",
    )
    assert {one.kept for one in seen.signatures} == {"recording missing or changed"}


def test_many_lines_are_told_in_short() -> None:
    beside = Beside(lost_clips=tuple(range(2, 91)))
    seen = summary(*RIGHT, *TESTED, *SIGNED, beside=beside)
    assert open_points(seen) == ("89 recordings missing or changed, lines 2 to 90",)
    noted = ({"kind": "heard", "note": True}, {"kind": "heard"})
    seen = summary(*RIGHT, *TESTED, *noted * 5, *SIGNED)
    assert open_points(seen) == ("5 notes to read, lines 8, 10, 12 and 2 more",)


@pytest.mark.parametrize(
    ("more", "kept"),
    [
        ({}, "voice"),
        ({"clip": None, "heard": {"engine": "typed"}}, "typed"),
        ({"clip": None, "heard": {"engine": "pressed"}}, "pressed"),
        ({"clip": None}, "no recording"),
    ],
)
def test_a_signature_says_how_it_is_kept(more: dict[str, Any], kept: str) -> None:
    (signature,) = summary({**SIGNED[0], **more}).signatures
    assert signature.kept == kept


def test_who_heard_the_job_left_no_voice() -> None:
    reviewed = {"kind": "reviewed", "by": "JT", "meaning": "heard", "agreed": 33, "disagreed": 1}
    (signature,) = summary(reviewed).signatures
    assert (signature.kept, signature.meaning) == ("no recording", "heard: 33 agreed, 1 disagreed")


def test_a_job_without_the_voice_says_so_in_the_verdict() -> None:
    typed = {"clip": None, "heard": {"engine": "typed", "text": "x"}}
    job = (*RIGHT, *TESTED)
    some = summary(*job, SIGNED[0], {**SIGNED[1], **typed})
    assert five_lines(some)[-1].text.endswith("1 confirmation was typed or has no recording.")
    whole = summary(*job, *({**one, **typed} for one in SIGNED))
    assert five_lines(whole)[-1].text.endswith("Nothing is open. The whole job was typed.")


def test_many_deviations_are_told_in_short() -> None:
    said = [{"kind": "heard", "deviations": [f"{n} {'word ' * 30}"]} for n in range(4)]
    (point,) = [one for one in open_points(summary(*said)) if "deviations" in one]
    assert point.startswith("4 deviations (“0 word")
    assert point.endswith("line 4, and 1 more)")
    assert "…”" in point
    assert len(point) < 400


def test_a_disagreement_stands_among_the_remarks_cleared_or_not() -> None:
    verdict = {"kind": "verdict", "of": 2, "step": "a", "agrees": False, "by": "JT"}
    (still,) = summary(RIGHT[0], verdict).remarks
    assert (still.seq, still.what, still.why) == (3, "JT does not agree", "line 2, at a; open")
    agreed = {**verdict, "agrees": True}
    (by_another,) = summary(RIGHT[0], verdict, {**agreed, "by": "AB"}).remarks
    assert by_another.why == "line 2, at a; open"
    (cleared,) = summary(RIGHT[0], verdict, agreed).remarks
    assert cleared.why == "line 2, at a; cleared at line 4"
    differs = {"kind": "compared", "by": "AB", "agrees": False, "points": []}
    (check,) = summary(RIGHT[0], differs).remarks
    assert check.why == "the independent check; open"


def test_a_check_that_is_compared_again_clears_no_other() -> None:
    agrees, new = (
        {"kind": "compared", "by": by, "with_root": root * 64, "agrees": True, "points": []}
        for by, root in (("AB", "a"), ("EF", "c"))
    )
    differs = {**agrees, "by": "CD", "with_root": "b" * 64, "agrees": False}
    (check,) = summary(RIGHT[0], agrees, differs, agrees).remarks
    assert check.why == "the independent check; open"
    (check,) = summary(RIGHT[0], agrees, differs, agrees, new).remarks
    assert check.why == "the independent check; cleared at line 6"
