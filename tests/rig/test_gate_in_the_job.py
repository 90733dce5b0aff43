"""With the supply on: what a hold, a break, a power cut and going back do to the job.

A reversed phase, a person in the way or a valve near its end are why the gate is proved in order
and falls as a whole; common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import datetime, timedelta

import pytest

from assistant.journal.entry import timestamp
from assistant.language.recognition import Recognition
from assistant.procedure.deeds import AT_THE_GATE, ActKind, Fact
from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing
from assistant.rig.soundless_job import in_meanings, play
from assistant.session.core import Session
from assistant.session.effects import (
    Deviated,
    Done,
    Effect,
    Held,
    HoldClosed,
    Listen,
    Request,
    Say,
)
from assistant.session.events import Event, Heard, Returned
from assistant.trade.motion import Rotation
from tests.rig.test_soundless_job import session, technician, wrong


@dataclass
class Stopped:
    """A job that was played up to a step, and is talked to from there."""

    session: Session
    now: str
    effects: tuple[Effect, ...]
    seen: list[Effect] = field(default_factory=list)

    def say(self, *replies: str) -> Stopped:
        for reply in replies:
            listen = next(effect for effect in self.effects if isinstance(effect, Listen))
            meaning = listen.grammar.parse(reply)
            self.take(Heard(self.now, Recognition(reply, meaning, 1.0, 0.0, "test")))
        return self

    def take(self, event: Event) -> Stopped:
        self.effects = self.session.receive(event)
        self.seen.extend(self.effects)
        return self

    def wait(self, seconds: float) -> Stopped:
        self.now = timestamp(datetime.fromisoformat(self.now) + timedelta(seconds=seconds))
        return self

    def power_returns(self) -> Stopped:
        return self.take(Returned(self.now))

    @property
    def said(self) -> str:
        return " ".join(effect.text for effect in self.effects if isinstance(effect, Say))


def at(step: str, rig: Actuator | None = None) -> Stopped:
    """The job with its question of this step just asked."""
    rig = rig or wrong("07")
    job = session(rig.unit)
    for event, effects in play(job, technician(rig), in_meanings):
        listen = next((effect for effect in effects if isinstance(effect, Listen)), None)
        if listen and listen.step == step and listen.read_back is None:
            return Stopped(job, event.at, effects)
    raise AssertionError(f"the job never asked {step}")


TO_THE_GATE = "begins again from its gate"
BREAKS = {
    "hold for a moment": lambda job: job.say("hold").wait(60).say("carry on"),
    "hold for a day": lambda job: (
        job.say("hold").wait(86400).say("carry on", "yes", "yes", "done", "locked")
    ),
    "power cut of a day": lambda job: (
        job.wait(86400).power_returns().say("yes", "yes", "done", "locked")
    ),
    "power cut, clock set back": lambda job: (
        job.wait(-86400).power_returns().say("yes", "yes", "done", "locked")
    ),
}


@pytest.mark.parametrize("interruption", BREAKS)
@pytest.mark.parametrize("step", ["test/lamps-in-travel", "test/jog", "test/close"])
def test_after_any_stop_the_motor_runs_only_through_the_gate(step: str, interruption: str) -> None:
    job = at(step)
    BREAKS[interruption](job)
    said = " ".join(effect.text for effect in job.seen if isinstance(effect, Say))
    assert TO_THE_GATE in said
    assert job.session.step in ("test/middle", "test/clear")
    assert not job.session.known & (AT_THE_GATE - {Fact.MID_TRAVEL})
    assert not any(
        isinstance(effect, Request) and effect.act in (ActKind.JOG, ActKind.STROKE)
        for effect in job.seen
    )


@pytest.mark.parametrize("interruption", BREAKS)
def test_nothing_says_that_the_supply_is_off_before_somebody_proved_it(interruption: str) -> None:
    """Source: 29 CFR 1910.147(d)(6), isolation is verified, never assumed."""
    job = at("test/jog")
    BREAKS[interruption](job)
    said = [effect.text for effect in job.seen if isinstance(effect, Say)]
    assert any(TO_THE_GATE in text for text in said)
    assert not [text for text in said if re.search(r"\bsupply\b.*\boff\b", text)]


def test_stop_with_the_supply_on_says_what_to_do_and_is_recorded() -> None:
    job = at("test/close").say("stop")
    assert "Push stop. Lock off before you reach in." in job.said
    assert [effect for effect in job.effects if isinstance(effect, Held)]
    job = at("test/close").say("blue", "banana", "what")
    assert "Push stop. Lock off before you reach in." in job.said


def test_nobody_cranks_by_hand_with_the_supply_on() -> None:
    job = at("test/close").say("go back", "yes")
    before_isolation = " ".join(effect.text for effect in job.effects if isinstance(effect, Say))
    assert "Crank" not in before_isolation
    assert "Not proved dead" in before_isolation
    assert "crank to mid-travel by hand" in job.say("yes").said


def test_a_reversed_motor_is_not_jogged_again_at_once() -> None:
    job = at("test/jog").say("closed", "carry on", "phases were exchanged", "yes", "technician")
    assert "Jog" not in job.said
    assert "Is the valve locked off and dead?" in job.said
    assert "crank to mid-travel by hand" in job.say("yes").said


def test_the_gate_is_proved_before_the_checker_signs_it() -> None:
    job = at("test/gate").say("hold").wait(86400).say("carry on", "yes", "yes", "done", "locked")
    while job.session.step != "test/gate":
        job.say("yes")
    assert Fact.PEOPLE_CLEAR in job.session.known
    assert Fact.PERMITTED in job.session.known


def test_a_motor_that_ran_onto_the_stop_has_its_rotor_set_again() -> None:
    # Routine backseating breaks stems: NRC Information Notices 87-40, 82-10.
    job = at("test/distance").say("zero", "correct")
    assert job.session.held
    job.say("carry on", "the trip was late", "yes", "technician", "done")
    assert job.session.step == "test/which-of-two"
    assert job.say("open").session.step.startswith("set-open-again")


def at_which_rotor() -> Stopped:
    """The lamps at the closed end were twice not as drawn, and the supply is off again."""
    job = at("test/close").say("both", "yes", "both", "yes")
    assert job.session.held
    return job.say("carry on", "looked at it", "yes", "technician", "yes", "done", "done")


@pytest.mark.parametrize(
    ("told", "step"), [("closed", "set-closed-again"), ("open", "set-open-again")]
)
def test_lamps_that_are_not_as_drawn_lead_to_the_rotor_that_is_named(told: str, step: str) -> None:
    job = at_which_rotor()
    assert job.session.step == "test/which-of-two"
    assert job.say(told).session.step.startswith(step)


def test_a_lamp_that_was_put_right_leaves_the_rotors_and_goes_through_the_gate_again() -> None:
    job = at_which_rotor().say("none")
    assert job.session.step == "test/clear"
    assert "crank to mid-travel by hand" in job.said


@pytest.mark.parametrize("happens", ["hold", "power cut"])
def test_an_interruption_does_not_lead_round_the_rotor_that_has_to_be_set(happens: str) -> None:
    job = at_which_rotor()
    job = job.power_returns() if happens == "power cut" else job.say("hold", "carry on")
    assert job.session.step == "test/which-of-two"
    assert TO_THE_GATE not in job.said


def test_a_shaft_found_free_at_the_gate_has_every_rotor_proved_again() -> None:
    # After every engagement the shafts are tried (common practice); what drifted is not proved.
    job = at("test/gate").say("checker wrong", "carry on", "looked at it", "yes", "technician")
    assert job.session.step == "test/cover-off"
    job.say("done", "free")
    assert job.session.held
    job.say("carry on", "rod was not out", "yes", "technician", "locked", "done")
    assert job.session.step.startswith("prove-open")


def test_going_back_after_the_supplies_were_given_back_does_not_crank_unisolated() -> None:
    job = at("finish/deviations").say("go back", "yes", "go back", "yes", "go back", "yes")
    assert not any(
        isinstance(effect, Request) and effect.act is ActKind.CRANK_TO_STOP for effect in job.seen
    )


def test_what_an_undone_answer_proved_is_not_known_any_more() -> None:
    job = at("find/read-closed/read")
    assert Fact.RODS_ENGAGED in job.session.known
    job.say("go back", "yes")
    assert Fact.RODS_ENGAGED not in job.session.known
    assert job.session.step == "rods/locked"


@pytest.mark.parametrize("way_out", [("hold", "go back", "yes"), ("go back", "yes")])
def test_a_hold_that_is_being_closed_is_not_left_unclosed(way_out: tuple[str, ...]) -> None:
    job = at("papers/permission").say("no", "carry on", "it was on the desk", "yes", *way_out)
    assert job.session.step == "papers/no-permit"
    assert not any(isinstance(effect, HoldClosed) for effect in job.seen)


@pytest.mark.parametrize("aside", ["go back", "take a note"])
def test_a_power_cut_while_something_else_is_asked_checks_the_valve_all_the_same(
    aside: str,
) -> None:
    job = at("prove-open/on").say(aside).wait(3 * 86400).power_returns()
    assert "do valve, rod and shafts stand as you left them?" in job.said


def test_the_time_of_a_mark_is_that_of_its_first_saying() -> None:
    job = at("open-end/set/turn").wait(3).say("mark thirty").wait(40).say("wrong", "mark thirty")
    assert "Too fast" in job.wait(40).say("yes").said


def test_a_shaft_found_free_after_a_break_at_the_gate_voids_the_proofs_by_hand() -> None:
    # After every engagement the shafts are tried (common practice); what drifted is not proved.
    job = at("test/clear").say("hold").wait(86400).say("carry on", "yes", "yes", "done")
    assert job.session.step == "test/shafts"
    job.say("free")
    assert job.session.held
    assert "Leave the rod as it is" in job.said
    job.say("carry on", "it had slipped", "yes", "technician", "locked", "done")
    assert job.session.step.startswith("prove-open")


def test_a_shaft_found_free_after_a_break_in_the_job_is_recorded_and_left() -> None:
    job = at("prove-open/on").say("hold").wait(86400).say("carry on", "yes", "yes")
    assert "Try to turn every shaft by hand" in job.said
    assert "rod" not in job.said
    job.say("no")
    assert job.session.held
    assert "Leave the rod as it is" in job.said
    told = [effect.text for effect in job.seen if isinstance(effect, Deviated)]
    assert any("found free" in text for text in told)


def test_a_break_while_a_hold_at_the_gate_is_closed_leads_to_the_gate() -> None:
    job = at("test/permission").say("no", "carry on", "it is signed", "yes")
    job.wait(86400).power_returns().say("technician", "yes", "yes")
    assert TO_THE_GATE in " ".join(effect.text for effect in job.seen if isinstance(effect, Say))
    assert "permission" not in job.said


@pytest.mark.parametrize("happens", ["hold", "power cut"])
def test_no_speed_is_told_of_a_turn_in_which_the_job_stood_still(happens: str) -> None:
    """Thirty revolutions in a minute are slow; nobody knows how long they were turned for."""
    job = at("open-end/set/turn").wait(3)
    job = job.power_returns() if happens == "power cut" else job.say("hold", "carry on")
    job.wait(60).say("mark thirty", "yes")
    speeds = [one for one in job.seen if isinstance(one, Done) and one.step.endswith("/speed")]
    assert [one.outcome for one in speeds] == ["unknown"]


def test_a_turn_that_is_asked_for_again_says_which_shaft_and_which_way() -> None:
    # Turned the wrong way, it ends at the inverted change-over (common practice, no source).
    job = at("open-end/set/turn").power_returns()
    assert "Turn the open shaft clockwise" in job.said


def test_a_shaft_that_may_stand_either_way_is_not_turned_by_what_was_told() -> None:
    gears = Gearing(38.0, Rotation.CLOCKWISE, 55.0)
    unit = wrong("07").unit
    past = {rotor.name: gears.standing_past(rotor.set_while) for rotor in unit.rotors}
    job = at("open-end/set/turn-on", Actuator(unit, past)).say("go back", "yes")
    assert "Back to where the contacts were read." in job.said
    assert "clockwise" not in job.said


def test_push_stop_comes_before_the_reason() -> None:
    # Energy, then people, then equipment: common practice, no source.
    job = at("test/jog").say("closed")
    assert job.said.startswith("Push stop. Lock off before you reach in. The motor turns")


def test_a_mark_is_not_asked_for_as_if_it_had_been_done() -> None:
    job = at("test/open-stop").say("banana")
    assert "If it is not done yet" not in job.said


def test_lamps_that_differ_are_recorded_though_they_are_right_in_the_end() -> None:
    told = [effect.text for effect in at_which_rotor().seen if isinstance(effect, Deviated)]
    assert any("At the closed end." in text for text in told)
