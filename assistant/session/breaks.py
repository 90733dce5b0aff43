"""A break: what nobody can vouch for any more after a long one, and how the job goes on.

A hold, a restart or a silence may have been one. It lasts from the last that was heard of anybody:
that the program asks again whether somebody is there does not shorten it, only an answer does.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator
from datetime import datetime

from assistant.language.answers import AskYesNo
from assistant.procedure.deeds import AT_THE_GATE, ActKind, Fact
from assistant.session import wording
from assistant.session.effects import Effect, Lapsed, Say
from assistant.session.job import Job
from assistant.session.restoring import TO_BE_RESTORED
from assistant.session.rules import Rules
from assistant.session.states import Aside, OnHold, Open, Purpose

__all__ = [
    "after_a_break",
    "after_silence",
    "answers_too_late",
    "forget",
    "release",
    "resume_aside",
]


_LASTING = frozenset(
    {ActKind.CRANK, ActKind.CRANK_SLOWLY, ActKind.CRANK_TO_MIDDLE, ActKind.CRANK_TO_STOP}
)
"""Work that may take longer than a long break: 400 turns of a handwheel at 30 a minute are 13
minutes, in which nobody has to say a word (common practice, no source). In the end the silence
holds the job."""


def answers_too_late(job: Job) -> bool:
    """Whether the silence before an answer was so long that it must not count as it is."""
    match job.state:
        case Open() if any(request.act in _LASTING for request in job.walk.told):
            return False
        case Aside(Purpose.AS_LEFT):
            return False  # just that is asked
        case Aside(before=OnHold(waiting=None)):
            return False  # a hold that is being closed tells how long the break was
        case _:
            return job.is_long(job.attended)


def after_silence(job: Job, why: str) -> Iterator[Effect]:
    """Say why nothing counts after a long silence, and ask how the valve stands, as after a hold.

    No time is measured across it either.
    """
    job.walk.names.lose_moments()
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
            yield from after_a_break(job, before, since)
        case Aside(Purpose.RESTORE, before=None) if job.is_long(since):
            yield from forget(job, since)
            yield from job.walk.notices()
            yield from job.go_on()
        case _:
            yield from forget(job, since)
            job.state = aside
            yield from job.say_again()


def after_a_break(job: Job, waiting: Open, since: datetime) -> Iterator[Effect]:
    """Go on with a question; after a long break only once it is known how the valve stands."""
    if not job.is_long(since):
        yield from job.reopen(waiting)
        return
    lost = yield from forget(job, since)
    if Fact.ENERGISED in lost:
        yield Say(wording.STOPPED_ENERGISED)
    # With the supply on nobody was to reach in; now the shafts are tried by hand.
    needed = lost | {Fact.ISOLATED} if job.gate_fell else lost
    again = tuple(fact for fact in Fact if fact in needed & TO_BE_RESTORED)
    yield from job.ask_aside(
        Purpose.AS_LEFT, AskYesNo(), wording.AS_LEFT, facts=again, before=waiting
    )
