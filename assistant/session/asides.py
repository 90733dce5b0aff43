"""What follows from a question that no step asks."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.meaning import Choice, Command, Meaning, Word
from assistant.procedure.deeds import Fact
from assistant.session import wording
from assistant.session.breaks import forget, go_on_after_hold, release
from assistant.session.effects import Deviated, Effect, HoldClosed, Proved, Say, Skipped
from assistant.session.going_back import go_back
from assistant.session.holds import HoldKind
from assistant.session.job import Job
from assistant.session.keeping import agreed_on
from assistant.session.rules import Rules
from assistant.session.states import Aside, Keeping, OnHold, Open, Purpose

__all__ = ["answered_aside"]


def answered_aside(job: Job, aside: Aside, meaning: Meaning) -> Iterator[Effect]:
    """Take the answer to it."""
    agreed = meaning == Command(Word.YES)
    match aside.purpose, aside.before, meaning:
        case Purpose.RESTORE, _, _:
            yield from _restored(job, aside, agreed)
        case Purpose.AS_LEFT, (Open() | None) as before, _:
            yield from forget(job, job.attended)  # the answer itself may have been long in coming
            yield from _as_left(job, before, aside.facts, agreed)
        case Purpose.REASON, Open() | OnHold() as before, _ if aside.kept is not None:
            yield from agreed_on(job, aside.kept, before, agrees=agreed)
        case Purpose.WHO_CLOSES, OnHold(reason=reason, since=since), Choice(role):
            yield HoldClosed(reason, role)
            yield from go_on_after_hold(job, since)
        case Purpose.WHO_SKIPS, _, Choice(role):
            yield Skipped(job.step, role)
            yield Say(wording.SKIPPED)
            yield from job.walk.pass_over()
            yield from job.forward()
        case Purpose.GO_BACK, OnHold() as held, _ if agreed and _was_long(job, held):
            yield Say(wording.BREAK_FIRST)
            yield from release(job, held)
        case Purpose.GO_BACK, _, _ if agreed:
            yield from go_back(job)
        case Purpose.SKIP, Open() as before, _ if agreed:
            job.state = Keeping(before, Purpose.WHO_SKIPS)
            yield Say(wording.SAY_WHY)
        case _, Open() | OnHold() as before, _:
            yield from job.return_to(before)


def _was_long(job: Job, held: OnHold) -> bool:
    """Whether a hold has become a long break by the time at which going back is agreed on."""
    return job.rules >= Rules.THIRD and job.is_long(held.since)


def _restored(job: Job, aside: Aside, agreed: bool) -> Iterator[Effect]:
    first, *others = aside.facts
    if not agreed:
        if first is Fact.RODS_ENGAGED and not _rod_is_out(job):
            yield Deviated(wording.WAS_FREE)
            yield from _proofs_fall(job)
            yield from job.hold(HoldKind.SHAFT_FREE)
        else:
            yield from job.hold(HoldKind.MISSING)
        return
    job.walk.prove(first)
    yield Proved(first)
    before = aside.before if isinstance(aside.before, Open) else None
    if others:
        yield from job.restore(tuple(others), before)
    elif before is not None:
        yield from job.reopen(before)
    else:
        yield from job.go_on_or_to_the_gate()


def _as_left(
    job: Job, before: Open | None, facts: tuple[Fact, ...], agreed: bool
) -> Iterator[Effect]:
    job.moved = not agreed
    if not agreed:
        yield Deviated(wording.WAS_MOVED)
        yield from _proofs_fall(job)
        yield from job.hold(HoldKind.MOVED)
    elif facts:
        yield from job.restore(facts, before)
    elif before is not None:
        yield from job.reopen(before)
    else:
        yield from job.forward_or_to_the_gate()


def _rod_is_out(job: Job) -> bool:
    """Whether the rod is known to be pressed, so that a shaft may well turn."""
    return job.rules >= Rules.THIRD and Fact.ROD_OUT in job.walk.known


def _proofs_fall(job: Job) -> Iterator[Effect]:
    """A proof shows where a rotor was, and any may have moved since."""
    if job.rules >= Rules.THIRD:
        yield from job.walk.proofs.fall()
