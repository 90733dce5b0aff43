"""What the jobs that take every way on come to: questions, spoken minutes, and what is left over.

A path is a job from the first step to its end, or to a hold that nobody can resolve here. Of the
jobs that were found as many are kept as are needed to take, together, every way on that any of them
took; the job as the rig is found is always the first. Numbers are of the paths that come to the
end: the fewest, the median and the most.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from assistant.rehearsal.covering import Cover, Job
from assistant.rehearsal.playing import Arc, Played

__all__ = ["Path", "Routes", "Spread", "routes_of", "spread"]


@dataclass(frozen=True, slots=True)
class Spread:
    """The fewest, the typical (median) and the most of something."""

    least: float
    typical: float
    most: float


@dataclass(frozen=True, slots=True)
class Path:
    """One path.

    Args:
        about: what was particular of it.
        questions: how many were answered.
        ends: whether the job came to its end; else it was left on hold.
        step: the step at which it ended.
        said: everything that was spoken, in order.
    """

    about: str
    questions: int
    ends: bool
    step: str
    said: tuple[str, ...]

    def seconds(self, length: Callable[[str], float]) -> float:
        """How long the program speaks on it, with the length of each sentence in seconds."""
        return sum(map(length, self.said))


@dataclass(frozen=True, slots=True)
class Routes:
    """The paths, and what they leave over.

    Args:
        paths: those that together take every way on.
        shown: ways on that the rig brought about by itself, found in one way or another.
        put_in: ways on for which an answer, an error or other papers had to be put in.
        missing: ways on that were not brought about.
        elsewhere: ways on that this unit does not have.
        steps: steps that were never reached, though this unit has them.
        reached: how many steps were reached.
        played: how many jobs were played to find the paths.
        gave_up: whether the search ended at its limit.
    """

    paths: tuple[Path, ...]
    shown: tuple[Arc, ...]
    put_in: tuple[Arc, ...]
    missing: tuple[Arc, ...]
    elsewhere: tuple[Arc, ...]
    steps: tuple[str, ...]
    reached: int
    played: int
    gave_up: bool


def routes_of(cover: Cover) -> Routes:
    """The paths of what was found."""
    kept = list(_needed(cover.jobs))
    shown = _arcs(played for job, played in cover.jobs if job.as_the_rig_shows)
    taken = _arcs(played for _, played in cover.jobs)
    begun: set[str] = set().union(*(played.begun for _, played in cover.jobs))
    return Routes(
        paths=tuple(_path(job, played) for job, played in kept),
        shown=tuple(sorted(shown)),
        put_in=tuple(sorted(taken - shown)),
        missing=tuple(cover.missing),
        elsewhere=tuple(cover.elsewhere),
        steps=tuple(cover.steps),
        reached=len(begun),
        played=cover.played,
        gave_up=cover.gave_up,
    )


def spread(numbers: Iterable[float]) -> Spread | None:
    """The spread of some numbers; None where there are none."""
    known = list(numbers)
    if not known:
        return None
    return Spread(min(known), statistics.median(known), max(known))


def _path(job: Job, played: Played) -> Path:
    session = played.rehearsal.session
    return Path(str(job), session.questions, session.finished, session.step, tuple(played.said))


def _arcs(jobs: Iterable[Played]) -> set[Arc]:
    return set().union(*(played.arcs for played in jobs))


def _needed(jobs: list[tuple[Job, Played]]) -> Iterator[tuple[Job, Played]]:
    """The first job, and then whichever takes the most ways on that are not taken yet."""
    left = _arcs(played for _, played in jobs)
    waiting = list(jobs)
    while left and waiting:
        first = left == _arcs(played for _, played in jobs)
        best = waiting[0] if first else max(waiting, key=lambda one: len(one[1].arcs & left))
        waiting.remove(best)
        if best[1].arcs & left:
            left -= best[1].arcs
            yield best
