"""What the board shows follows from what happened, and is never more than was said."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from assistant.board.contact_table import expected_at, rows_of
from assistant.board.follow import follow, not_shown, paused, standing_still, stopped
from assistant.board.position import Position
from assistant.board.view import Situation, Standing, Turn, first_view
from assistant.procedure.deeds import ActKind
from assistant.rig.as_found import built, found_wrong
from assistant.rig.soundless_job import in_meanings, in_words, play
from assistant.session.effects import Deviated, Request, Say
from assistant.session.events import Returned
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation
from assistant.trade.sheet import Sourced
from tests.board.shown import CONTRADICTION, READING, Watched, watched
from tests.rig.test_soundless_job import PROGRAM, session, technician, wrong
from tests.session.job import TO_READING, kf, two_ends

CLOSED, OPEN = ContactState.CLOSED, ContactState.OPEN
SHORT, LONG = 60.0, 3600.0


def situation(job: Watched) -> Situation:
    return job.view.situation


def standing(job: Watched) -> Standing | None:
    return None if job.view.heard is None else job.view.heard.standing


def keys(job: Watched) -> tuple[str, ...]:
    return job.view.keys


def unknown(job: Watched) -> bool:
    """Whether the board shows neither a place of the valve nor a contact as read."""
    view = job.view
    return view.position == Position() and not view.reading.states and not view.reading.counts


@pytest.fixture
def at_reading() -> Watched:
    return watched(*TO_READING)


def test_before_anything_happened_there_is_a_title_and_no_key() -> None:
    view = first_view(two_ends(), kf("07"))
    assert view.situation is Situation.STARTING
    assert (view.place, view.keys) == (None, ())


def test_the_place_is_the_step_of_the_procedure_and_the_steps_within(at_reading: Watched) -> None:
    place = at_reading.view.place
    assert place is not None
    assert (place.phase, place.part) == ("open end", "read")
    assert place.number == two_ends().number("open-end/read")
    assert place.steps == len(two_ends().nodes)


def test_a_question_shows_its_contacts_and_nothing_that_gives_the_answer_away(
    at_reading: Watched,
) -> None:
    assert situation(at_reading) is Situation.ASKING
    assert " ".join(at_reading.view.instructions) == at_reading.said
    rows = list(rows_of(at_reading.view))
    assert [row.number for row in rows] == [1, 2, 3, 4]
    assert {(row.expected, row.heard) for row in rows} == {(None, None)}


def test_what_was_heard_is_shown_while_it_is_confirmed_and_counts_only_then(
    at_reading: Watched,
) -> None:
    at_reading.say(READING)
    view = at_reading.view
    assert view.situation is Situation.CONFIRMING
    assert view.heard is not None
    assert view.heard.meaning == "one and two closed, three and four open"
    assert view.heard.standing is Standing.OPEN
    assert [row.heard for row in rows_of(view)] == [CLOSED, CLOSED, OPEN, OPEN]
    assert not view.reading.counts
    at_reading.say("correct")
    assert at_reading.view.reading.counts
    assert standing(at_reading) is Standing.COUNTS


def test_wrong_takes_the_states_off_again(at_reading: Watched) -> None:
    at_reading.say(READING, "wrong")
    assert situation(at_reading) is Situation.ASKING
    assert {row.heard for row in rows_of(at_reading.view)} == {None}


def test_what_is_missing_stays_open(at_reading: Watched) -> None:
    at_reading.say("one and two closed")
    assert [row.heard for row in rows_of(at_reading.view)] == [CLOSED, CLOSED, None, None]


def test_the_direction_is_shown_from_the_question_that_asks_for_it(at_reading: Watched) -> None:
    # Common practice, no source: changed over already, so against the way it turned.
    at_reading.say(READING)
    assert at_reading.view.shown_turn is None
    at_reading.say("correct")
    assert at_reading.view.shown_turn is None  # first the drive is let loose
    at_reading.say("done")
    assert at_reading.view.shown_turn == Turn("open", Rotation.COUNTERCLOCKWISE)
    at_reading.say("mark", "mark three")
    assert at_reading.view.shown_turn is None  # first it is confirmed
    at_reading.say("correct")
    assert at_reading.view.shown_turn == Turn("open", Rotation.CLOCKWISE)


def test_a_hold_takes_the_direction_away_and_carry_on_brings_it_back(at_reading: Watched) -> None:
    at_reading.say(READING, "correct", "done", "hold")
    assert situation(at_reading) is Situation.HELD
    assert at_reading.view.hold
    assert at_reading.view.shown_turn is None
    assert keys(at_reading) == ("carry on",)
    at_reading.say("carry on")
    assert situation(at_reading) is Situation.ASKING
    assert at_reading.view.shown_turn == Turn("open", Rotation.COUNTERCLOCKWISE)


def test_while_devices_are_gone_no_direction_is_shown_and_it_comes_back(
    at_reading: Watched,
) -> None:
    # From memory of IEC 60204-1: after a failure nothing is to be acted on unless it is told again.
    at_reading.say(READING, "correct", "done")
    at_reading.view = standing_still(at_reading.view, "No sound from the microphone.")
    assert (at_reading.view.shown_turn, keys(at_reading)) == (None, ())
    at_reading.take(Returned(at_reading.now))
    assert at_reading.view.failure == ""
    assert at_reading.view.shown_turn == Turn("open", Rotation.COUNTERCLOCKWISE)


def test_of_a_job_that_has_stopped_no_direction_is_shown(at_reading: Watched) -> None:
    at_reading.say(READING, "correct", "done")
    view = stopped(at_reading.view, ["Do nothing more."], "The disk is full.")
    assert (view.shown_turn, view.keys) == (None, ())
    assert (view.last_words, view.failure) == (("Do nothing more.",), "The disk is full.")


def test_an_interrupted_job_shows_nothing_to_act_on_until_it_goes_on(at_reading: Watched) -> None:
    at_reading.say(READING, "correct", "done")
    at_reading.view = paused(at_reading.view)
    assert (at_reading.view.shown_turn, keys(at_reading)) == (None, ())
    at_reading.take(Returned(at_reading.now))
    assert not at_reading.view.reading.counts
    assert at_reading.view.shown_turn == Turn("open", Rotation.COUNTERCLOCKWISE)


def test_what_cannot_be_shown_leaves_no_key_and_no_direction(at_reading: Watched) -> None:
    at_reading.say(READING, "correct")
    view = not_shown(at_reading.view)
    assert (view.shown_turn, view.keys, view.turn) == (None, (), None)
    assert view.instructions == ("The board cannot show this step. Listen to the voice.",)


def test_a_hold_outlives_devices_that_were_gone(at_reading: Watched) -> None:
    at_reading.say("hold")
    why = at_reading.view.hold
    at_reading.view = standing_still(at_reading.view, "No sound from the microphone.")
    at_reading.take(Returned(at_reading.now))
    assert (situation(at_reading), at_reading.view.hold) == (Situation.HELD, why)


def test_a_contradiction_shows_no_direction_and_says_so(at_reading: Watched) -> None:
    at_reading.say(CONTRADICTION, "correct")
    assert at_reading.view.contradiction
    assert at_reading.view.shown_turn is None
    at_reading.say(READING, "correct", "done")
    assert not at_reading.view.contradiction
    assert at_reading.view.shown_turn == Turn("open", Rotation.COUNTERCLOCKWISE)


def test_what_is_not_understood_and_silence_are_shown_as_such(at_reading: Watched) -> None:
    at_reading.say("blue banana")
    assert standing(at_reading) is Standing.MISSED
    at_reading.silence()
    assert standing(at_reading) is Standing.SILENT


def test_a_doubtful_reply_is_shown_as_what_is_asked_about(at_reading: Watched) -> None:
    at_reading.say(READING, confidence=0.1)
    assert standing(at_reading) is not Standing.COUNTS
    assert not at_reading.view.reading.counts


def test_going_back_takes_off_what_no_longer_counts(at_reading: Watched) -> None:
    at_reading.say(READING, "correct", "go back", "yes")
    assert at_reading.view.shown_turn is None
    assert {row.heard for row in rows_of(at_reading.view)} == {None}
    assert at_reading.view.position.percent is None  # the record went back, not the valve


def test_keys_are_short_answers_that_the_question_understands(at_reading: Watched) -> None:
    assert keys(at_reading) == ("hold",)  # a contact is said, not pressed
    at_reading.say(READING)
    assert keys(at_reading) == ("correct", "wrong", "hold")
    at_reading.say("correct", "done")
    assert keys(at_reading) == ("mark", "hold")


def test_a_pressed_answer_does_what_the_spoken_one_does_and_is_shown_as_pressed(
    at_reading: Watched,
) -> None:
    at_reading.say(READING)
    at_reading.press("correct")
    assert at_reading.view.heard is not None
    assert at_reading.view.heard.is_pressed
    assert standing(at_reading) is Standing.COUNTS


def test_a_second_person_cannot_be_pressed() -> None:
    job = watched("yes", "yes", "locked off", "yes", "yes")
    assert job.listen.grammar.parse("checker correct") is not None
    assert job.view.keys == ("hold",)


def test_after_a_break_nobody_knows_where_the_valve_stands(at_reading: Watched) -> None:
    assert at_reading.view.position.percent is not None
    at_reading.power_returns()
    assert at_reading.view.position == Position()


def test_what_was_found_moved_after_a_long_hold_is_not_shown_as_known(at_reading: Watched) -> None:
    at_reading.say(READING, "correct")
    assert at_reading.view.position.reached
    assert at_reading.view.reading.counts
    at_reading.say("hold").wait(LONG).say("carry on")
    assert "stand as you left them?" in at_reading.said
    assert unknown(at_reading)
    at_reading.say("no")
    assert unknown(at_reading)
    at_reading.say("carry on", "yes")  # it was put back, by nobody's count
    assert unknown(at_reading)


def test_after_a_long_hold_of_the_procedure_nobody_knows_where_the_valve_stands(
    at_reading: Watched,
) -> None:
    at_reading.say(CONTRADICTION, "correct", CONTRADICTION, "correct")
    assert situation(at_reading) is Situation.HELD
    at_reading.wait(LONG).say("carry on", "a contact was dirty", "yes", "technician")
    assert unknown(at_reading)


def test_a_short_hold_leaves_what_is_known(at_reading: Watched) -> None:
    at_reading.say(READING, "correct")
    known = at_reading.view
    at_reading.say("hold").wait(SHORT).say("carry on")
    assert situation(at_reading) is Situation.ASKING
    assert at_reading.view.position == known.position
    assert at_reading.view.reading == known.reading


def test_the_drawing_is_read_as_past_the_trip_within_its_tolerance() -> None:
    # The sheet of KF-07: contacts 1 and 2 closed from 98.4 %, 3 and 4 closed up to there.
    unit = kf("07")
    rotor = next(one for one in unit.rotors if one.name == "open")
    for off in (-unit.tolerance.value, 0.0, unit.tolerance.value):
        expected = expected_at(unit, Position(unit.trip(rotor) + off, reached=True))
        assert [expected[number] for number in (1, 2, 3, 4)] == [CLOSED, CLOSED, OPEN, OPEN]
    assert expected_at(unit, Position()) == {}


def test_no_place_is_reckoned_by_the_sheet_once_another_stroke_was_counted() -> None:
    """A valve of 61 turns, whose sheet says 62: what is counted twice counts in the job."""
    sheet, rig = kf("07"), wrong("07")
    turns = Sourced(61.0, "turns", "the valve itself")
    rig = built(replace(rig.unit, stroke_turns=turns), found_wrong(rig.unit))
    view, adopted, cranked = first_view(PROGRAM, sheet), False, 0
    for event, effects in play(session(sheet), technician(rig), in_meanings):
        view = follow(view, event, effects)
        adopted = adopted or any(
            isinstance(effect, Deviated) and "replaces the number of the sheet" in effect.text
            for effect in effects
        )
        acts = [effect.act for effect in effects if isinstance(effect, Request)]
        if adopted and ActKind.CRANK in acts:
            assert view.position.percent is None
            cranked += 1
        elif adopted and acts[-1:] == [ActKind.CRANK_TO_STOP]:
            assert view.position.percent in (0.0, 100.0)  # a stop is one, whatever the count
    assert adopted
    assert cranked


@pytest.mark.parametrize("number", ["07", "12"])
def test_in_a_whole_job_the_board_shows_no_way_that_was_not_said_and_ends_done(
    number: str,
) -> None:
    rig = wrong(number)
    view, said, shown = first_view(PROGRAM, rig.unit), "", 0
    for event, effects in play(session(rig.unit), technician(rig), in_words):
        told = " ".join(effect.text for effect in effects if isinstance(effect, Say))
        said = told if "clockwise" in told else said
        view = follow(view, event, effects)
        if view.shown_turn is not None:
            ways = [word for word in re.findall(r"\w+", said) if word.endswith("clockwise")]
            assert ways[-1] == view.shown_turn.rotation
            shown += 1
        asked = [effect for effect in effects if isinstance(effect, Request)]
        assert not any(one.act is ActKind.TURN_SHAFT for one in asked) or view.shown_turn
    assert shown >= 2 * len(rig.unit.rotors)
    assert view.situation is Situation.DONE
