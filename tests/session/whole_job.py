"""The flagship job up to any of its steps, without sound."""

from __future__ import annotations

import functools

from assistant.language.english import english
from assistant.procedure.papers import read_papers
from assistant.session.core import Session
from tests.journal.rehearsed import OF_THE_TESTER, PAPERS, replies, rig_of
from tests.session.job import Job, flagship, kf

__all__ = ["at", "new_session"]


def at(step: str) -> Job:
    """A job that stands at a step of the flagship."""
    return Job(new_session()).say(*_said()[: _number_at(step)])


def new_session() -> Session:
    """A session of it that has yet to begin."""
    papers = read_papers(flagship(), {**PAPERS, **OF_THE_TESTER})
    return Session(flagship(), kf("07"), english(), papers)


@functools.cache
def _said() -> tuple[str, ...]:
    return tuple(replies(rig_of(kf("07")), checks=False))


@functools.cache
def _number_at(step: str) -> int:
    """How many replies lead there."""
    job = Job(new_session())
    for number, reply in enumerate(_said()):
        if job.session.step == step:
            return number
        job.say(reply)
    raise AssertionError(f"nobody gets to {step}")
