"""Going back: the record undoes an answer, and says what has to be put back at the valve.

It goes further back than asked for where the question before would mislead: over a turn of a shaft
to where the contacts were read before it, for a direction holds only for the contacts as they were
read; and to where the valve was cranked to a stop, if it does not stand any more where the question
was asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.procedure.deeds import ActKind, Fact
from assistant.session import wording
from assistant.session.effects import Effect, Request, Say, WentBack
from assistant.session.job import Job
from assistant.session.putting_back import cranked, put_back, without_turns
from assistant.session.rules import Rules
from assistant.session.valve_place import leads_elsewhere

__all__ = ["go_back"]


def go_back(job: Job) -> Iterator[Effect]:
    """Undo the last answer, and say what has to be put back at the valve."""
    done = job.walk.told.copy()
    answer = job.undo()
    done[:0] = answer.told
    by_third = job.rules >= Rules.THIRD
    where_to = wording.WENT_BACK if job.walk.handles_valve else wording.WENT_BACK_IN_WORK
    if by_third and _was_turned(done) and any(one.reads_contacts for one in job.trail):
        while not answer.reads_contacts:
            answer = job.undo()
            done[:0] = answer.told
        done = [*without_turns(done)]
        where_to = wording.WENT_BACK_TO_READING
    if by_third and (job.moved or leads_elsewhere(request.act for request in done)):
        job.walk.elsewhere = True
    if job.walk.elsewhere:
        done = [*without_turns(done)]
        job.to_crank_back = ()
    else:
        # Nobody cranks before it is known again that it is safe: that is said later.
        job.to_crank_back = (*cranked(done), *job.to_crank_back)
    yield Say(where_to)
    yield from map(Say, put_back(done))
    if by_third and answer.energised and Fact.ENERGISED not in job.walk.known:
        job.gate_fell = True  # it was locked off since
    elif job.walk.elsewhere and answer.depends_on_place and job.was_at_a_stop:
        yield from job.to_its_place()
        return
    yield WentBack(answer.mark.node)
    yield from job.forward_or_to_the_gate()


def _was_turned(done: Iterable[Request]) -> bool:
    """Whether a shaft may have been turned, so that the contacts stand otherwise."""
    return any(request.act is ActKind.TURN_SHAFT for request in done)
