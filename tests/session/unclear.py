"""Replies that a recogniser could not tell apart, for tests."""

from __future__ import annotations

from assistant.language.meaning import Meaning
from assistant.language.recognition import Recognition
from assistant.session.events import Heard
from tests.session.job import Job

__all__ = ["unclear"]


def unclear(job: Job, best: str, other: str, confidence: float = 0.4) -> Job:
    """Let the job hear one of two replies, and not know which."""
    meanings = [_meaning(job, reply) for reply in (best, other)]
    heard = Recognition(best, meanings[0], confidence, 0.0, "test", meanings[1])
    return job.take(Heard(job.now, heard))


def _meaning(job: Job, reply: str) -> Meaning:
    meaning = job.listen.grammar.parse(reply)
    assert meaning is not None, f"{reply!r} cannot be said here"
    return meaning
