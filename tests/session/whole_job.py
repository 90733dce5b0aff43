"""The flagship job up to any of its steps, without sound."""

from __future__ import annotations

import functools
from collections.abc import Mapping

from assistant.language.english import english
from assistant.procedure.papers import read_papers
from assistant.session.core import Session
from tests.journal.rehearsed import OF_THE_TESTER, PAPERS, replies, rig_of
from tests.session.job import Job, flagship, kf

__all__ = ["at", "new_session", "right_reply"]


def at(step: str) -> Job:
    """A job that stands at a step of the flagship."""
    return Job(new_session()).say(*_said()[: _number_at(step)])


def new_session() -> Session:
    """A session of it that has yet to begin."""
    papers = read_papers(flagship(), {**PAPERS, **OF_THE_TESTER})
    return Session(flagship(), kf("07"), english(), papers)


def right_reply(job: Job) -> str:
    """What answers the question that is open, as in a job in which all is right."""
    listen = job.listen
    if listen.read_back is not None:
        return "correct"
    match listen.aside:
        case "":
            return _replies_at().get(listen.step, "yes")
        case "hold":
            return "carry on"
        case "note":
            return "it was found and put right"
        case "who-closes" | "who-skips":
            return "technician"
    return "yes"


@functools.cache
def _replies_at() -> Mapping[str, str]:
    """The first reply at each step."""
    job, found = Job(new_session()), dict[str, str]()
    for reply in _said():
        found.setdefault(job.session.step, reply)
        job.say(reply)
    return found


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
