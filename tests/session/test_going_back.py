"""Going back undoes answers, and not what was done at the valve: what has to be done there is said.

Facts of the trade: nobody cranks with the setting rod out, nor before the valve is locked off and
proved dead; contacts are read, and a shaft is turned, where the valve stands at the rotor's place,
or a shaft ends at the inverted change-over; a shaft is never turned above 200 turns a minute
(common practice, no source). Source of the locking off: 29 CFR 1910.147(d).
"""

from __future__ import annotations

import functools
import random

import pytest

from assistant.language.english import english
from assistant.procedure.deeds import ActKind, Fact
from assistant.procedure.papers import read_papers
from assistant.session.core import Session
from assistant.session.effects import Deviated, Proved, Request, Say, WentBack
from assistant.session.events import Opened
from assistant.session.prompt_length import MOST_WORDS
from assistant.session.rules import Rules
from tests.journal.rehearsed import OF_THE_TESTER, PAPERS, replies, rig_of
from tests.session.job import NOW, TO_READING, Job, flagship, kf, two_ends
from tests.session.whole_job import at

BACK = ("go back", "yes")
LIMIT = "Caution. Never above two hundred turns a minute."
MOVED_AWAY = "The valve does not stand there any more."


def texts(job: Job) -> list[str]:
    return [effect.text for effect in job.effects if isinstance(effect, Say)]


def aside(job: Job) -> str:
    return job.listen.aside


def turned_on() -> Job:
    """A shaft was turned onto the change-over, past it, and now back onto it."""
    job = Job().say(*TO_READING, "one and two closed three and four open", "correct")
    job.say("done", "mark").wait(20).say("mark twelve", "correct")
    assert job.session.step == "open-end/turn-on"
    return job


def kf_12() -> Session:
    papers = read_papers(flagship(), {**PAPERS, **OF_THE_TESTER})
    return Session(flagship(), kf("12"), english(), papers)


@functools.cache
def said_at_kf_12() -> tuple[str, ...]:
    return tuple(replies(rig_of(kf("12")), checks=False))


# The rod, and the crank


def test_nobody_is_told_to_crank_back_while_the_rod_is_out() -> None:
    """The step gone back to only has contacts read; the crank before it needs the rod engaged."""
    job = at("open-end/set/disengage").say(*BACK)
    assert Fact.ROD_OUT in job.session.known
    assert "crank" not in job.said.casefold()
    assert "Are all locked?" in job.said
    job.say("yes")
    assert Proved(Fact.RODS_ENGAGED) in job.effects
    assert "If it was cranked, crank back one turn toward open." in texts(job)


def test_what_waits_to_be_cranked_back_is_not_lost_when_the_record_goes_back_again() -> None:
    """The valve was cranked on; of the two questions before it the first was asked there too."""
    job = at("find/crank-on").say("mark ten turns", "correct")
    contradiction = "one two three four five six open seven eight closed"
    job.say(contradiction, "correct")
    assert job.session.step == "find/read/read-again"
    job.say("one two seven eight open three four five six closed", "correct")
    assert job.session.step == "find/crank-further"
    job.wait(2000).say("mark ten turns", "yes", "hold", *BACK)
    assert aside(job) == "restore"  # nobody knows whether it is dead
    job.say("hold", *BACK)
    assert aside(job) == "restore"
    job.say("yes", "yes")
    assert job.session.step == "find/read/read"
    assert texts(job) == [
        "If it was cranked on, crank back toward closed to where the last count was.",
        "Read all contacts.",
    ]


@pytest.mark.parametrize("seed", range(12))
def test_wherever_it_is_gone_back_nobody_cranks_unless_it_is_dead_and_the_rods_are_in(
    seed: int,
) -> None:
    moves = random.Random(seed)
    job = Job(kf_12())
    for reply in said_at_kf_12()[: moves.randrange(40, len(said_at_kf_12()))]:
        job.say(reply)
    for _ in range(30):
        if job.finished:
            return
        job.say(moves.choice(["go back", "yes", "hold", "carry on"]))
        if any(text.startswith("If it was cranked") for text in texts(job)):
            assert {Fact.ISOLATED, Fact.RODS_ENGAGED} <= job.session.known


# Where the valve stands


def stands(job: Job) -> bool:
    return MOVED_AWAY not in job.said


def test_a_rod_is_let_in_again_wherever_the_valve_stands() -> None:
    job = at("closed-end/set/end-stop").say(*BACK)
    assert stands(job)
    assert job.session.step == "open-end/set/try-shafts"
    job.say("locked")
    assert "crank to the closed stop" in job.said


def test_contacts_are_not_read_and_no_shaft_is_turned_where_the_valve_does_not_stand() -> None:
    """It was cranked to the closed stop: what was read at the open one is read there anew."""
    job = at("closed-end/set/end-stop").say(*BACK, *BACK)
    assert not stands(job)
    assert "turn it back" not in job.said
    assert "Read contacts" not in job.said
    job.say("yes")  # all shafts are locked
    assert "crank to the open stop" in job.said
    assert job.session.step == "open-end/set/end-stop"


def test_nor_where_a_shaft_is_found_free_after_the_valve_was_cranked_to_the_other_end() -> None:
    job = at("closed-end/set/end-stop").say(*BACK, "free")
    assert not stands(job)
    assert "Read contacts" not in job.said
    assert "Are all locked?" in job.said


def test_a_proof_is_gone_back_to_from_its_stop() -> None:
    """The closed rotor's proof was begun at the closed stop; the open one's is counted anew."""
    job = at("prove-closed/before").say(*BACK)
    assert not stands(job)
    assert job.session.step == "prove-open/before"
    assert [effect.act for effect in job.effects if isinstance(effect, Request)] == [
        ActKind.CRANK_TO_STOP,
        ActKind.CRANK,
    ]
    assert "If it was cranked" not in job.said


def test_the_first_question_after_a_crank_to_a_stop_begins_there_anyhow() -> None:
    job = at("open-end/set/read").say(*BACK)
    assert stands(job)
    assert job.session.step == "open-end/set/end-stop"
    assert "If it was cranked" not in job.said


# What is said


def test_over_a_turn_it_is_gone_back_to_where_the_contacts_were_read() -> None:
    """A direction holds for contacts as they were read: turned by it again, a shaft goes past."""
    job = turned_on().say(*BACK)
    assert texts(job) == [
        "Back to where the contacts were read. Only the record went back, not the valve.",
        "The setting rod may be pressed in.",
        "Turn the setting rod a quarter turn back, and let it come fully out. Then try to turn "
        "every shaft by hand. Are all locked?",
    ]
    job.say("yes")
    assert job.session.step == "open-end/read"
    assert "Read contacts" in job.said


def test_a_rod_that_is_known_to_be_out_is_no_shaft_that_was_found_free() -> None:
    job = turned_on().say(*BACK, "no")
    assert job.held
    assert not job.all_of(Deviated)
    job.say("carry on")
    assert "let it come fully out" in job.said


def test_from_a_rod_that_was_let_in_nobody_is_led_to_a_turn() -> None:
    job = at("open-end/set/try-shafts").say(*BACK)
    assert job.session.step == "open-end/set/check-left"
    job.say(*BACK)
    assert "Say mark" not in job.said
    assert "turn it back" not in job.said


def test_who_cannot_put_back_what_was_moved_is_led_to_a_stop() -> None:
    """Nobody knows where the valve stands, nor that it is dead."""
    job = at("open-end/set/check-left").wait(1200).say("hold", "carry on", "no")
    job.say(*BACK)
    assert not stands(job)
    assert "Not proved dead" in job.said
    job.say("yes", "yes")
    assert "crank to the open stop" in job.said


@pytest.mark.parametrize("back", [1, 2, 3])
def test_no_way_back_leads_round_the_proofs_that_fell(back: int) -> None:
    """A shaft was free at the gate: every rotor is proved again before the supply comes back."""
    job = at("test/gate").say("checker wrong", "carry on", "not ready", "yes", "technician")
    job.say("done", "free", "carry on", "found", "yes", "technician")
    for _ in range(back):
        job.say(*BACK)
    for _ in range(12):
        if job.session.step.startswith("prove-open"):
            break
        said = {"say done": "done", "say locked": "locked", "say checker": "checker correct"}
        asked = job.said.casefold()
        reply = next((one for words, one in said.items() if words in asked), "yes")
        job.say(reply)
        assert Fact.ENERGISED not in job.session.known
    assert job.session.step.startswith("prove-open")


def test_what_a_rod_or_a_supply_may_stand_like_is_a_prompt_of_its_own() -> None:
    assert texts(at("open-end/set/begin").say(*BACK))[1] == "The setting rod may be pressed in."
    assert texts(at("test/lamps-in-travel").say(*BACK))[1] == "The supply may be on."


# Jobs that were begun before


def test_an_older_job_goes_back_to_the_question_before_and_no_further() -> None:
    session = Session(two_ends(), kf("07"), english())
    job = Job(session)
    session.receive(Opened(NOW, Rules.SECOND))
    job.say(*TO_READING, "one and two closed three and four open", "correct")
    job.say("done", "mark").wait(20).say("mark twelve", "correct", *BACK)
    assert WentBack("open-end/turn") in job.effects
    assert job.session.step == "open-end/turn"


def test_wherever_it_is_gone_back_no_prompt_is_too_long() -> None:
    """Twelve seconds: common practice, no source."""
    said = said_at_kf_12()
    for number in range(len(said)):
        job = Job(kf_12()).say(*said[:number], *BACK)
        longest = max(texts(job), key=lambda text: len(text.split()))
        assert len(longest.split()) <= MOST_WORDS, longest


def test_the_entry_that_goes_further_back_tells_nothing_of_the_steps_between() -> None:
    """What is recorded there again would stand in the record, though it was taken back."""
    job = at("prove-bypass/unseat").say(*BACK)
    assert not stands(job)
    assert [effect.step for effect in job.effects if isinstance(effect, WentBack)] == [
        "prove-closed/before"
    ]
    assert job.session.step == "prove-closed/before"


# The day of a moment


def test_going_back_to_the_permit_does_not_make_the_tester_overdue() -> None:
    # A due date is of a day, which no break changes (10 CFR 72.174 for the calibration).
    job = Job(kf_12()).say("yes", "yes")
    job.say(*BACK)
    assert "overdue" not in job.said
    assert "permit" in job.said


def test_in_an_older_job_it_goes_on_as_it_was_decided() -> None:
    job = Job(kf_12())
    job.take(Opened(NOW, rules=Rules.SECOND))
    job.say("yes", "yes", *BACK)
    assert "overdue" in job.said
