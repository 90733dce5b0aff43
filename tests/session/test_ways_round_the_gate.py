"""No way out of a hold, an aside or a break leads round what has to be proved first."""

from __future__ import annotations

import random

import pytest

from assistant.language.meaning import Agreement, Command, Word
from assistant.procedure.deeds import ActKind, Fact
from assistant.session.effects import Confirmed, Deviated, Held, Lapsed, Listen, Proved, Request
from tests.session.job import Job
from tests.session.whole_job import at, right_reply

DAYS = 3 * 24 * 3600.0

LONG = 1200.0
"""Seconds after which nobody can vouch for the valve."""


def aside(job: Job) -> str | None:
    (listen,) = (one for one in job.effects if isinstance(one, Listen))
    return listen.aside


@pytest.mark.parametrize("step", ["lamps-in-travel", "jog", "close", "order", "open-stop"])
@pytest.mark.parametrize(
    "way",
    [
        ("hold", "carry on"),
        ("hold", "go back", "yes"),
        ("go back", "hold", "carry on", "no"),
        ("go back", "hold", "carry on", "silence"),
    ],
)
def test_after_a_hold_with_the_supply_on_the_gate_is_gone_through_again(
    step: str, way: tuple[str, ...]
) -> None:
    job = at(f"test/{step}")
    assert Fact.ENERGISED in job.session.known
    for reply in way:
        job.silence() if reply == "silence" else job.say(reply)
    assert Fact.ENERGISED not in job.session.known
    assert job.session.step == "test/middle"


@pytest.mark.parametrize("step", ["jog", "open-stop"])
@pytest.mark.parametrize("held", [False, True])
def test_after_a_long_break_with_the_supply_on_it_is_proved_dead_before_a_shaft_is_tried(
    step: str, held: bool
) -> None:
    """Hands go into the housing for it. Source: 29 CFR 1910.147(d)."""
    job = at(f"test/{step}")
    if held:
        job.say("hold").wait(LONG).say("carry on")
    else:
        job.wait(LONG).power_returns()
        assert "Push stop. Lock off before you reach in." in job.said
    job.say("yes")  # it stands as it was left
    assert job.said == "Not proved dead. Is the supply isolated, locked, and proved dead?"
    job.say("yes")
    assert Proved(Fact.ISOLATED) in job.effects
    assert job.session.step == "test/cover-off"


@pytest.mark.parametrize(
    "step", ["open-end/set/try-shafts", "open-end/set/begin", "prove-open/before", "test/jog"]
)
def test_going_back_from_a_long_hold_does_not_pass_over_the_break(step: str) -> None:
    job = at(step).say("hold").wait(DAYS).say("go back")
    assert job.said.startswith("The break comes first.")
    assert aside(job) == "as-left"


@pytest.mark.parametrize("step", ["jog", "close", "open-stop"])
def test_until_it_is_proved_dead_the_supply_may_be_on(step: str) -> None:
    """Who holds, is away or goes back has not switched it off (29 CFR 1910.147(d))."""
    for way in (("hold",), ("hold", "carry on"), ("go back", "yes")):
        assert at(f"test/{step}").say(*way).session.supply_may_be_on
    job = at(f"test/{step}").say("hold").wait(LONG).say("carry on", "yes")
    assert job.session.supply_may_be_on
    assert not job.say("yes").session.supply_may_be_on


def test_that_it_was_proved_dead_may_be_gone_back_over() -> None:
    job = at("test/lock-off/lock-off").say("yes")
    assert not job.session.supply_may_be_on
    assert job.say("go back", "yes").session.supply_may_be_on


def test_before_it_was_switched_on_it_is_off() -> None:
    assert not at("test/gate").session.supply_may_be_on
    assert at("test/lamps-in-travel").session.supply_may_be_on


def test_a_valve_that_was_moved_in_a_break_can_be_gone_back_over() -> None:
    """The hold itself says so."""
    job = at("open-end/set/begin").say("hold").wait(DAYS).say("carry on", "no")
    assert any(isinstance(effect, Deviated) for effect in job.effects)
    assert "say go back" in job.said
    job.say("go back", "yes")
    assert job.session.step != "open-end/set/begin"


def test_a_break_lasts_from_the_last_that_was_heard_of_anybody() -> None:
    job = at("find/crank-on")
    for _ in range(3):
        job.wait(600).silence()
    job.wait(60).say("carry on")
    assert aside(job) == "as-left"


@pytest.mark.parametrize(
    ("step", "answer"),
    [
        ("open-end/set/disengage", "done"),
        ("open-end/set/try-shafts", "locked"),
        ("test/jog", "closed"),
    ],
)
def test_no_answer_counts_after_a_long_silence_before_it_is_known_how_the_valve_stands(
    step: str, answer: str
) -> None:
    job = at(step)
    job.wait(599).silence().wait(599).silence().wait(300)
    job.say(answer)
    assert not job.confirmed
    assert "That counts as a break." in job.said
    assert aside(job) == "as-left"
    assert job.session.known <= {Fact.ROD_OUT}


def test_who_cranks_by_hand_for_long_has_not_been_away() -> None:
    # 400 turns at 30 a minute: common practice, no source.
    job = at("find/crank-on").wait(599).silence().wait(210).say("mark five turns", "correct")
    assert aside(job) == ""
    assert job.confirmed


def test_it_counts_once_that_is_known() -> None:
    job = at("open-end/set/disengage").wait(LONG).say("done", "yes", "yes")
    assert job.said.startswith("If it is not done yet: ")
    assert job.say("done").session.step == "open-end/set/begin"


def test_a_command_after_a_long_silence_is_obeyed_and_does_not_end_it() -> None:
    job = at("open-end/set/disengage").wait(LONG).say("say again", "where am i", "help")
    assert aside(job) == ""
    assert aside(job.say("done")) == "as-left"


def test_a_hold_after_a_long_silence_has_been_a_break_since_then() -> None:
    job = at("open-end/set/disengage").wait(LONG).say("hold").wait(10).say("carry on")
    assert aside(job) == "as-left"


def test_going_back_after_a_long_silence_does_not_pass_over_it() -> None:
    job = at("open-end/set/begin").wait(LONG).say("go back")
    assert job.said.startswith("The break comes first.")
    assert aside(job) == "as-left"


def test_a_note_does_not_shorten_a_long_silence() -> None:
    job = at("open-end/set/disengage").wait(LONG).say("take a note", "it is cold", "done")
    assert aside(job) == "as-left"


@pytest.mark.parametrize("seconds", [-1.0, 600.0])
def test_how_the_valve_stands_can_be_told_after_any_silence(seconds: float) -> None:
    job = at("open-end/set/disengage").wait(LONG).say("done").wait(seconds).say("yes")
    assert aside(job) == "restore"
    assert aside(job.say("yes")) == ""


def test_a_fact_that_is_asked_for_is_not_proved_by_an_answer_after_a_long_silence() -> None:
    job = at("open-end/set/disengage").wait(LONG).say("done", "yes")
    assert aside(job) == "restore"
    job.wait(2 * LONG).say("yes")
    assert not any(isinstance(effect, Proved) for effect in job.effects)
    assert aside(job) == "as-left"


def test_nine_minutes_of_work_are_no_break() -> None:
    job = at("open-end/set/disengage").wait(540).say("done")
    assert job.session.step == "open-end/set/begin"


def test_talk_around_does_not_shorten_a_break() -> None:
    job = at("find/crank-on").say("hold").wait(LONG).say("which bus do you take")
    job.say("carry on")
    assert aside(job) == "as-left"


# Nobody gets behind the gate but through it

ENERGISED = (
    *("test/lamps-in-travel", "test/travel-again", "test/jog", "test/close", "test/closed-again"),
    *("test/order", "test/open-start", "test/open-stop", "test/lamps-when-open", "test/open-again"),
)
"""The questions of the electrical test that are asked with the supply on."""

PROVED = {
    "test/clear": Command(Word.YES),
    "test/permission": Command(Word.YES),
    "test/gate": Agreement("checker", agrees=True),
}
"""What is answered at the gate, every time before it is energised: people clear, permission given,
and a second person's word. Common practice, no source; people clear: 29 CFR 1910.147(e)(2)."""


@pytest.mark.parametrize("step", ["jog", "close", "open-stop", "lamps-when-open"])
@pytest.mark.parametrize("times", [1, 2, 3])
def test_nothing_behind_the_gate_is_gone_back_to_from_before_it(step: str, times: int) -> None:
    job = at(f"test/{step}").say("hold", "carry on", "yes")
    assert job.session.step == "test/clear"
    for _ in range(times):
        job.say("go back", "yes")
        assert not job.session.step.startswith("test/") or job.session.step == "test/middle"


def test_nor_after_lamps_were_looked_at_twice() -> None:
    job = at("test/lamps-when-open").say("none", "correct", "hold", "carry on", "yes")
    job.say("go back", "yes", "go back", "yes")
    assert job.session.step.startswith("prove-")


def test_nor_once_it_was_locked_off_at_the_end_of_the_test() -> None:
    """Lamps that are dark because the supply is off tell nothing."""
    job = at("test/distance").say("go back", "yes")
    assert job.session.step == "test/lock-off/lock-off"
    job.say("go back", "yes")
    assert "begins again from its gate" in job.said
    assert job.say("yes").session.step == "test/clear"


@pytest.mark.parametrize("free", [False, True])
def test_nor_where_the_shafts_are_tried_before_it(free: bool) -> None:
    job = at("test/open-stop").say("hold").wait(LONG).say("carry on", "yes", "yes")
    assert job.session.step == "test/cover-off"
    if free:
        job.say("done")
    job.say("go back", "yes")
    assert job.session.step not in ENERGISED


def test_what_was_said_before_the_gate_can_be_gone_back_to() -> None:
    job = at("test/jog").say("hold", "carry on", "yes", "go back", "yes")
    assert job.session.step == "prove-bypass/unseat"


BEHIND = ("test/jog", "test/close", "test/open-stop", "test/lamps-when-open", "test/distance")
MOVES = ("right", "go back", "yes", "no", "hold", "carry on", "return", "wait")
CHANCES = (8, 4, 2, 1, 2, 2, 1, 1)


def moved(job: Job, moves: random.Random) -> Job:
    """Let one thing happen."""
    match moves.choices(MOVES, CHANCES)[0]:
        case "right":
            return job.say(right_reply(job))
        case "return":
            return job.wait(moves.choice([10, LONG])).power_returns()
        case "wait":
            return job.wait(LONG).silence()
        case said:
            return job.say(said)


def unproved(job: Job, before: frozenset[str], *, was_live: bool) -> frozenset[str]:
    """What has to be proved at the gate yet: all of it after a hold with the supply on, after a
    break and after it was locked off."""
    for effect in job.effects:
        match effect:
            case Lapsed() | Request(ActKind.LOCK_OFF):
                before = frozenset(PROVED)
            case Held() if was_live:
                before = frozenset(PROVED)
            case Confirmed(step, answer) if PROVED.get(step) == answer:
                before -= {step}
    return before


@pytest.mark.parametrize("seed", range(60))
def test_whatever_is_said_nobody_is_behind_the_gate_who_did_not_go_through_it(seed: int) -> None:
    moves = random.Random(seed)
    job, left = at(moves.choice(BEHIND)), frozenset[str]()
    for _ in range(60):
        was_live = job.session.step in ENERGISED
        left = unproved(moved(job, moves), left, was_live=was_live)
        if job.finished or not job.session.step.startswith(("prove", "test")):
            return
        if aside(job) == "" and job.session.step in ENERGISED:
            assert not left
            assert {Fact.ENERGISED, Fact.PEOPLE_CLEAR, Fact.PERMITTED} <= job.session.known
