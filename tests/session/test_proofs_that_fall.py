"""A shaft that is found free, or was moved in a break, voids what was proved by hand before.

A proof shows where the rotor was when it was made, and setting, slipping or turning one may have
moved any: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.procedure.deeds import Fact
from assistant.session.effects import Confirmed, Say, Voided
from assistant.session.events import Opened
from assistant.session.rules import Rules
from tests.session.job import Job
from tests.session.whole_job import at, new_session

LONG = 900.0
"""Seconds: a long break, and not too long for work that was asked for."""

AGAIN = (
    "A shaft may have moved. The proofs by hand count no more. "
    "Every rotor has to be proved again. Clutch the handwheel in. Say done."
)
BEHIND_THE_GATE = {"test/cover-off": "done", "test/shafts": "locked"}
DEAD, LOCKED = "proved dead?", "Are all locked?"


def after_a_break(step: str) -> Job:
    return at(step).say("hold").wait(LONG).say("carry on")


def free_at(step: str) -> Job:
    """A shaft is found free where they are tried after a break."""
    job = after_a_break(step).say("yes", "yes")
    assert job.said.endswith(LOCKED)
    return job.say("no")


def moved_at(step: str) -> Job:
    """Something does not stand as it was left."""
    return after_a_break(step).say("no")


def to_the_proofs(job: Job) -> Job:
    """Say that all is well again, until every rotor is to be proved again, and nothing else."""
    for _ in range(8):
        if job.session.step == "prove-again":
            return job
        if job.session.held or job.listen.aside:
            job.say("carry on" if job.session.held else "yes")
        else:
            job.say(BEHIND_THE_GATE[job.session.step])
    raise AssertionError(f"it goes on at {job.session.step}: {job.said}")


IN_THE_PROOFS = (
    *("prove-open/on", "prove-closed/before", "prove-closed/on"),
    *("prove-bypass/unseat", "finish/cover"),
)


@pytest.mark.parametrize("step", IN_THE_PROOFS)
@pytest.mark.parametrize("found", [free_at, moved_at])
def test_every_rotor_is_proved_again_once_the_shafts_are_locked(found: object, step: str) -> None:
    assert callable(found)
    job = to_the_proofs(found(step))
    assert job.said == AGAIN
    assert job.session.known == {Fact.ISOLATED, Fact.RODS_ENGAGED}
    assert job.say("done").session.step == "prove-open/before"


@pytest.mark.parametrize("step", ["finish/locks", "finish/sign-technician", "finish/sign-checker"])
def test_nobody_signs_for_proofs_that_count_no_more(step: str) -> None:
    """The supplies are back: first it is proved dead (29 CFR 1910.147(d))."""
    job = moved_at(step).say("carry on", "yes")
    assert job.said.endswith(DEAD)
    assert job.say("yes").said.endswith(LOCKED)
    assert to_the_proofs(job).said == AGAIN


@pytest.mark.parametrize("step", ["test/clear", "test/gate", "test/jog", "test/open-stop"])
def test_behind_the_gate_the_cover_comes_off_first(step: str) -> None:
    job = moved_at(step).say("carry on", "yes", "yes")
    assert job.session.step == "test/cover-off"
    job.say("done")
    assert job.session.step == "test/shafts"
    assert job.say("locked").said == AGAIN


def test_where_one_is_free_there_the_procedure_itself_has_all_proved_again() -> None:
    job = moved_at("test/jog").say("carry on", "yes", "yes", "done", "free")
    job.say("carry on", "the rod was half in", "yes", "technician", "locked")
    assert job.session.step == "prove-again"
    assert job.said == "Every rotor has to be proved again. Clutch the handwheel in. Say done."


@pytest.mark.parametrize("found", [free_at, moved_at])
def test_before_anything_was_proved_it_goes_on_where_it_was(found: object) -> None:
    assert callable(found)
    for step in ("open-end/set/read", "closed-end/set/read", "prove-open/before"):
        job = found(step)
        for _ in range(5):
            if not (job.session.held or job.listen.aside):
                break
            job.say("carry on" if job.session.held else "yes")
        assert job.session.step == step


@pytest.mark.parametrize("step", IN_THE_PROOFS)
def test_going_back_does_not_lead_round_it(step: str) -> None:
    job = moved_at(step).say("go back", "yes")
    assert to_the_proofs(job).said == AGAIN
    assert job.say("go back").session.step == "prove-again"
    assert not job.session.held


def test_what_is_void_is_told_by_rotor() -> None:
    job = free_at("prove-closed/before")
    assert job.all_of(Voided) == [Voided(("open",))]
    job = moved_at("finish/cover")
    assert job.all_of(Voided) == [Voided(("closed", "open"))]
    job = at("prove-open/on")
    assert not any(job.all_of(Voided))


def test_a_second_break_on_the_way_there_does_not_lead_round_it() -> None:
    job = free_at("prove-closed/before").wait(LONG).say("carry on")
    assert job.said.endswith("do valve, rod and shafts stand as you left them?")
    assert to_the_proofs(job).said == AGAIN


def test_it_is_the_same_after_a_restart() -> None:
    for job in (free_at("prove-closed/before"), moved_at("prove-closed/before")):
        job.say("carry on").power_returns()
        assert to_the_proofs(job).said == AGAIN


def test_while_the_rod_is_out_the_rotor_is_set_first() -> None:
    """After that the procedure has all proved in any case."""
    job = at("prove-closed/before").say("all closed", "correct", "all closed", "correct")
    while job.session.step != "set-closed-again/disengage":
        job.say(
            *{"read": ("five and six closed seven and eight open", "correct")}.get(
                job.session.step.rpartition("/")[2], ("clockwise", "correct")
            )
        )
    job.say("done", "hold").wait(LONG).say("carry on", "no", "carry on", "yes")
    assert Fact.ROD_OUT in job.session.known
    assert job.say("yes").session.step == "set-closed-again/begin"


def test_an_older_job_goes_on_as_it_was_decided() -> None:
    newer = free_at("prove-closed/before").say("carry on", "yes")
    opened, *others = newer.history
    assert isinstance(opened, Opened)
    session = new_session()
    session.receive(replace(opened, rules=Rules.SECOND))
    for event in others:
        effects = session.receive(event)
    assert session.step == "prove-closed/before"
    assert not any(isinstance(one, Confirmed | Voided) for one in effects)
    assert any(isinstance(one, Say) and "Read contacts" in one.text for one in effects)
