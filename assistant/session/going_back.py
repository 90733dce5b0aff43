"""Going back: the record undoes an answer, and says what has to be put back at the valve.

It goes further back than asked for where the question before would mislead: over a turn of a shaft
to where the contacts were read before it, for a direction holds only for the contacts as they were
read; and to where the valve was cranked to a stop, if it does not stand any more where the question
was asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from assistant.procedure.deeds import ActKind, Fact
from assistant.session import wording
from assistant.session.effects import Effect, Request, Say, WentBack
from assistant.session.putting_back import cranked, put_back, without_turns
from assistant.session.rules import Rules
from assistant.session.trail import Answer
from assistant.session.valve_place import leads_elsewhere

if TYPE_CHECKING:
    from assistant.session.job import Job

__all__ = ["go_back", "to_its_place"]


def go_back(job: Job) -> Iterator[Effect]:
    """Undo the last answer, and say what has to be put back at the valve."""
    done = job.walk.told.copy()
    answer = _undo(job)
    done[:0] = answer.told
    by_third = job.rules >= Rules.THIRD
    where_to = wording.WENT_BACK if job.walk.handles_valve else wording.WENT_BACK_IN_WORK
    if by_third and _was_turned(done) and any(one.reads_contacts for one in job.trail):
        while not answer.reads_contacts:
            answer = _undo(job)
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
    elif job.walk.elsewhere and answer.depends_on_place and _was_at_a_stop(job):
        yield from to_its_place(job)
        return
    yield WentBack(answer.mark.node)
    yield from job.forward_or_to_the_gate()


def to_its_place(job: Job) -> Iterator[Effect]:
    """Go further back, to where the valve was cranked to a known place before this step."""
    yield Say(wording.ELSEWHERE)
    if not _was_at_a_stop(job):
        job.walk.elsewhere = False
        yield Say(wording.PUT_IT_BACK)
        yield from job.go_on()
        return
    while not (answer := _undo(job)).begins_anywhere:
        pass
    yield Say(wording.TO_A_STOP)
    # The question, not where its walk began: in a loop that may have been gone through since.
    yield WentBack(answer.node.name)
    yield from job.forward_or_to_the_gate()


def _was_turned(done: Iterable[Request]) -> bool:
    """Whether a shaft may have been turned, so that the contacts stand otherwise."""
    return any(request.act is ActKind.TURN_SHAFT for request in done)


def _was_at_a_stop(job: Job) -> bool:
    """Whether the valve was cranked to a known place for an answer before."""
    return any(one.begins_anywhere for one in job.trail)


def _undo(job: Job) -> Answer:
    """Stand where the walk to the last answer's question began, with nothing of it proved."""
    answer = job.trail.pop()
    job.walk.return_to(answer.mark)
    job.lose_moments()
    job.walk.known -= answer.proved
    job.reading = answer.reading
    if answer.voided and job.rules >= Rules.THIRD:
        # The procedure would have had all proved again on the way that is left now.
        job.walk.proofs.prove_again()
    return answer
