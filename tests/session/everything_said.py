"""Everything that the session says where, at every question and in every hold, all is tried.

A job is played on the rig. At each place where it waits for a reply it is played up to there once
more and then led astray: every command is said, a note is taken, it is silent up to the hold, and
on hold the same again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from assistant.language.english import english
from assistant.procedure.load import load_program
from assistant.procedure.papers import read_papers
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.playing import Played
from assistant.rig.as_found import found_wrong
from assistant.session.core import Session
from assistant.session.effects import Effect, Listen, Say, listening
from assistant.session.events import Event
from tests.session.job import PROCEDURES, Job, kf
from tests.units import PAPERS

__all__ = ["SHIPPED", "bench_of", "said_in"]

SHIPPED = ("graft-scion", "second-check", "set-geared-limits", "stroke-time-check")

ASKING = (
    *("say again", "where am i", "repeat contacts", "help"),
    *("slower", "faster", "louder", "softer"),
)
"""Commands that leave the job where it stands."""

NOTE = "the seal on the cover is torn"
A_BREAK = 1200.0
"""Seconds after which nobody can vouch for the valve."""

Where = tuple[str, str, type[object], bool]
"""A step, what an aside there is for, the kind of the question, and whether it is read back."""


@cache
def bench_of(name: str, unit: str = "07") -> Bench:
    """A shipped procedure, on a shipped unit where it needs one."""
    program = load_program(PROCEDURES / f"{name}.yaml")
    told = PAPERS | {"grafter": "MK", "row": "A1"}
    papers = read_papers(program, {paper: told[paper] for paper in program.procedure.papers})
    if name == "graft-scion":
        return _Remembering(program, None, papers)
    return _Remembering(program, kf(unit), papers, found_wrong(kf(unit)))


def said_in(jobs: Iterable[Played]) -> set[str]:
    """All that is said in these jobs, which were played on such benches, and aside from them."""
    seen: set[Where] = set()
    said: set[str] = set()
    for played in jobs:
        said.update(played.said)
        bench, session = played.rehearsal.bench, played.rehearsal.session
        assert isinstance(session, _RememberingSession), "its events are not known"
        for events in _places(bench, session.history, seen):
            job = Job(Session(bench.program, bench.unit, english(), bench.papers))
            for event in events[1:]:
                job.take(event)
            job.now = events[-1].at
            said.update(_texts(_astray(job)))
    return said


class _RememberingSession(Session):
    """A session that keeps what happened."""

    history: tuple[Event, ...] = ()

    def receive(self, event: Event) -> tuple[Effect, ...]:
        self.history = (*self.history, event)
        return super().receive(event)


@dataclass(frozen=True, slots=True)
class _Remembering(Bench):
    """A bench on which what happens in a job is kept."""

    def session(self) -> Session:
        return _RememberingSession(self.program, self.unit, english(), self.papers)


def _places(
    bench: Bench, history: tuple[Event, ...], seen: set[Where]
) -> Iterator[tuple[Event, ...]]:
    """The events up to each place that was not seen before."""
    session = Bench.session(bench)
    for number, event in enumerate(history, start=1):
        listen = listening(session.receive(event))
        if listen is not None and (where := _where(listen)) not in seen:
            seen.add(where)
            yield history[:number]


def _where(listen: Listen) -> Where:
    return listen.step, listen.aside, type(listen.question), listen.read_back is not None


def _texts(effects: Iterable[Effect]) -> Iterator[str]:
    for effect in effects:
        if isinstance(effect, Say):
            yield effect.text


def _astray(job: Job) -> Iterator[Effect]:
    """What is answered to all that is said beside the answer."""
    yield from _all_of(job, *ASKING)
    yield from _and_back(job, "go back", "go-back")
    yield from _and_back(job, "skip this step", "skip")
    yield from _all_of(job, "take a note", *ASKING, NOTE)
    for _ in range(3):
        yield from job.silence().effects
        yield from _all_of(job, *ASKING)
    yield from _all_of(job, "carry on", *ASKING, "hold", "hold", *ASKING)
    yield from _all_of(job, "take a note", *ASKING, NOTE)
    yield from job.power_returns().effects
    yield from _all_of(job.wait(A_BREAK), "carry on", *ASKING)
    for _ in range(3):
        yield from job.silence().effects
    yield from _all_of(job, "hold", "carry on", *ASKING, "go back", "yes", *ASKING)


def _all_of(job: Job, *replies: str) -> Iterator[Effect]:
    for reply in replies:
        yield from job.say(reply).effects


def _and_back(job: Job, command: str, aside: str) -> Iterator[Effect]:
    """Say a command that is confirmed, and do not confirm it."""
    yield from _all_of(job, command)
    if job.listen.aside == aside:
        yield from _all_of(job, *ASKING, "no")
