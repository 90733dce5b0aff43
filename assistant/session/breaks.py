"""A break: what nobody can vouch for any more after a long one, and how the job goes on.

A hold, a restart or a silence may have been one. It lasts from the last that was heard of anybody:
that the program asks again whether somebody is there does not shorten it, only an answer does.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator
from datetime import datetime

from assistant.language.answers import AskYesNo
from assistant.procedure.deeds import AT_THE_GATE, Fact
from assistant.session import wording
from assistant.session.effects import Effect, Lapsed, Say
from assistant.session.job import Job
from assistant.session.restoring import one_by_one
from assistant.session.rules import Rules
from assistant.session.states import Aside, OnHold, Open, Purpose

__all__ = [
    "after_a_break",
    "after_silence",
    "answers_too_late",
    "forget",
    "go_on_after_hold",
    "release",
    "resume_aside",
]


def answers_too_late(job: Job) -> bool:
    """Whether the silence before an answer was so long that it must not count as it is."""
    match job.state:
        case _ if job.rules is Rules.FIRST:
            return False
        case Aside(Purpose.AS_LEFT):
            return False  # just that is asked
        case Aside(before=OnHold(waiting=None)):
            return False  # a hold that is being closed tells how long the break was
        case _:
            return job.was_away


def after_silence(job: Job, why: str) -> Iterator[Effect]:
    """Say why nothing counts after a long silence, and ask how the valve stands, as after a hold.

    No time is measured across it either.
    """
    job.lose_moments()
    yield Say(why)
    match job.state:
        case Open() as waiting:
            yield from after_a_break(job, waiting, job.attended)
        case Aside(before=OnHold() as held):
            yield from job.return_to(held)  # its end asks
        case Aside() as aside:
            yield from resume_aside(job, aside, job.attended)


def forget(job: Job, since: datetime) -> Generator[Effect, None, frozenset[Fact]]:
    """After a long break nothing counts as known but that a rod was left out; what was lost."""
    if not job.is_long(since):
        return frozenset()
    yield Lapsed()
    if job.rules is not Rules.FIRST:
        job.attended = job.now  # what came of the break is reckoned with
    lost = job.walk.known - {Fact.ROD_OUT}
    job.walk.known -= lost
    job.gate_fell = job.gate_fell or not AT_THE_GATE.isdisjoint(lost)
    return lost


def release(job: Job, held: OnHold) -> Iterator[Effect]:
    """Go on with what waits for the end of a hold."""
    match held.waiting:
        case Open() as waiting:
            yield from after_a_break(job, waiting, held.since)
        case Aside() as waiting:
            yield from resume_aside(job, waiting, held.since)


def resume_aside(job: Job, aside: Aside, since: datetime) -> Iterator[Effect]:
    """Go on with a question of the session's own; after a long break what it proved is void."""
    match aside:
        case Aside(before=Open() as before) if job.is_long(since):
            before_it = () if job.rules is Rules.FIRST else aside.facts
            yield from after_a_break(job, before, since, before_it)
        case Aside(Purpose.RESTORE, before=None) if job.is_long(since):
            lost = yield from forget(job, since)
            yield from job.walk.notices()
            if job.rules >= Rules.THIRD:
                job.state = aside  # no hold waits for the answer
                yield from _ask_as_left(job, _again(job, lost, aside.facts), None)
            else:
                yield from job.go_on()
        case Aside(before=OnHold()) if job.rules >= Rules.THIRD:
            job.state = aside  # the end of the hold reckons with the break, as without a restart
            yield from job.say_again()
        case _:
            yield from forget(job, since)
            job.state = aside
            yield from job.say_again()


def after_a_break(
    job: Job, waiting: Open, since: datetime, facts: tuple[Fact, ...] = ()
) -> Iterator[Effect]:
    """Go on with a question; after a long break only once it is known how the valve stands.

    Args:
        job: the job.
        waiting: the question.
        since: when somebody was heard last.
        facts: what had to be proved already before this break.
    """
    if not job.is_long(since):
        yield from job.reopen(waiting)
        return
    lost = yield from forget(job, since)
    if job.rules is not Rules.FIRST:
        waiting.dialogue.begin_anew()  # no reading is put together from before and after
        if not job.walk.handles_valve:
            yield from job.reopen(waiting)
            return
    if Fact.ENERGISED in lost:
        yield Say(wording.STOPPED_ENERGISED)
    yield from _ask_as_left(job, _again(job, lost, facts), waiting)


def go_on_after_hold(job: Job, since: datetime) -> Iterator[Effect]:
    """Go on behind a hold of the procedure; after a long one once it is known how the valve stands.

    Args:
        job: the job, past the hold.
        since: when somebody was heard last before it.
    """
    was_long = job.is_long(since)
    lost = yield from forget(job, since)
    yield Say(wording.CARRY_ON)
    yield from job.walk.carry_on()
    if was_long and job.rules is not Rules.FIRST and job.walk.handles_valve:
        job.mark()
        yield from _ask_as_left(job, _again(job, lost, ()), None)
    else:
        yield from job.forward_or_to_the_gate()


def _ask_as_left(job: Job, facts: tuple[Fact, ...], waiting: Open | None) -> Iterator[Effect]:
    """Ask how the valve stands, and then for the facts; None: the walk goes on after it."""
    yield from job.ask_aside(
        Purpose.AS_LEFT, AskYesNo(), wording.AS_LEFT, facts=facts, before=waiting
    )


def _again(job: Job, lost: frozenset[Fact], facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
    """What is to be proved again, of what was lost in this break and of what was lost before."""
    # With the supply on nobody was to reach in; now the shafts are tried by hand.
    needed = {*lost, *facts} | ({Fact.ISOLATED} if job.gate_fell else set())
    if job.rules is not Rules.FIRST and Fact.ISOLATED not in needed:
        # Before the break it was not known to be dead: no hand is to go in, and what needs the
        # shafts locked will ask for it.
        needed.discard(Fact.RODS_ENGAGED)
    return one_by_one(needed)
