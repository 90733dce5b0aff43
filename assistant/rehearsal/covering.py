"""Jobs that together take every way on of every step.

First the job is played on rigs whose rotors are found in every way, as the rig shows. Then, for
each way on that was not taken though its step was reached, the job that reached it first is played
again with one more departure at a question that decides it: another answer, an error, a moment that
is late. What comes of it may reach further steps, and so on until nothing new is found. Loops are
gone round up to their limits, by departures that are made again.

What is not found by this is not proved to be impossible: it was not brought about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import combinations

from assistant.language.meaning import Quantity
from assistant.language.numbers import LARGEST
from assistant.procedure.fit import outcomes_on, reached_on
from assistant.procedure.model import Ask, Repeat
from assistant.procedure.program import Node, Program
from assistant.procedure.values import Kind, Value
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.departures import Departure, Otherwise, Visit, departures_at
from assistant.rehearsal.feeding import Feeding
from assistant.rehearsal.playing import Arc, Played, play
from assistant.rig.as_found import Found, Setting
from assistant.trade.motion import Rotation

__all__ = ["Cover", "Job", "arcs_of", "cover", "reach"]

MOST_JOBS = 4000
"""Jobs that are played at most."""

SHORTER = 2.0
"""Handwheel turns by which the stroke of a rig is shorter than its sheet says."""

MOST_TRIES = 60
"""Jobs that are played at most for one way on."""


@dataclass(frozen=True)
class Job:
    """How a job is to be played.

    Args:
        bench: unit, papers, and the rig as found.
        about: what is particular of it, in words; empty for nothing.
        departures: what goes otherwise than the rig shows.
        as_given: whether the papers are those that were given.
    """

    bench: Bench
    about: str
    departures: tuple[Departure, ...] = ()
    as_given: bool = True

    @property
    def as_the_rig_shows(self) -> bool:
        """Whether every answer was what the rig shows, and the papers were those given."""
        return self.as_given and not self.departures

    def with_one(self, departure: Departure) -> Job:
        """The same job with one more departure."""
        return replace(self, departures=(*self.departures, departure))

    def __str__(self) -> str:
        return "; ".join((self.about, *map(str, self.departures)))


@dataclass(slots=True)
class Cover:
    """What was found.

    Args:
        jobs: those that took a way on that no job before had taken, in the order of playing.
        missing: ways on that no job took.
        elsewhere: ways on that this unit does not have.
        steps: steps that no job began, though this unit has them.
        played: how many jobs were played.
        gave_up: whether the search ended at its limit.
    """

    jobs: list[tuple[Job, Played]]
    missing: list[Arc]
    elsewhere: list[Arc]
    steps: list[str]
    played: int
    gave_up: bool


def arcs_of(program: Program) -> list[Arc]:
    """Every way on of every step, in the order of the steps."""
    return [(node.name, outcome) for node in program.nodes.values() for outcome in node.targets]


def cover(bench: Bench, told: Callable[[int, int], None] = lambda _played, _left: None) -> Cover:
    """Look for jobs that take every way on.

    Args:
        bench: what is rehearsed; the rig is found in every way besides.
        told: is told from time to time how many jobs were played, and how many ways on are left.
    """
    return _Search(bench, told).run()


def reach(
    bench: Bench, step: str, told: Callable[[int, int], None] = lambda _played, _left: None
) -> Job | None:
    """Look for a job that comes to a step, by whatever has to go otherwise for that.

    Args:
        bench: what is rehearsed.
        step: the step, by its name in the whole program.
        told: as for `cover`.
    """
    search = _Search(bench, told, goal=step)
    search.run()
    return search.first[step][0] if step in search.first else None


@dataclass
class _Search:
    bench: Bench
    told: Callable[[int, int], None]
    goal: str = ""
    found: list[tuple[Job, Played]] = field(default_factory=list)
    first: dict[str, tuple[Job, Played]] = field(default_factory=dict)
    taken: set[Arc] = field(default_factory=set)
    tried: set[tuple[str, str]] = field(default_factory=set)
    played: int = 0

    @property
    def _over(self) -> bool:
        return self.played >= MOST_JOBS or self.goal in self.first

    def run(self) -> Cover:
        program = self.bench.program
        feeding = Feeding(program)
        unit = self.bench.unit
        ways = {node.name: outcomes_on(node, unit) for node in reached_on(program, unit)}
        wanted = [arc for arc in arcs_of(program) if arc[1] in ways.get(arc[0], ())]
        for job in _beginnings(self.bench):
            if not self._over:
                self._play(job)
        news = True
        while news and not self._over:
            before = len(self.taken)
            for arc in wanted:
                if arc not in self.taken and arc[0] in self.first:
                    self._try(arc, program.nodes[arc[0]], feeding)
            news = len(self.taken) > before
        reached = {step for step, _ in wanted} | ways.keys()
        begun = set().union(*(played.begun for _, played in self.found))
        return Cover(
            jobs=self.found,
            missing=[arc for arc in wanted if arc not in self.taken],
            elsewhere=[arc for arc in arcs_of(program) if arc not in set(wanted)],
            steps=[name for name in program.nodes if name in reached and name not in begun],
            played=self.played,
            gave_up=self.played >= MOST_JOBS,
        )

    def _play(self, job: Job) -> None:
        """Play a job that was not played yet, and keep it if it took a new way on."""
        if (key := (job.about, str(job.departures))) in self.tried:
            return
        self.tried.add(key)
        self.played += 1
        played = play(job.bench, job.departures)
        if new := played.arcs - self.taken:
            self.taken |= new
            self.found.append((job, played))
        for step in played.begun:
            self.first.setdefault(step, (job, played))
        if self.played % 20 == 0:
            self.told(self.played, len(self.taken))

    def _try(self, arc: Arc, node: Node, feeding: Feeding) -> None:
        """Play the job that reached a step first, with what may lead it another way on."""
        job, played = self.first[node.name]
        for number, another in enumerate(_tries(arc, node, job, played, feeding)):
            if arc in self.taken or number >= MOST_TRIES or self._over:
                return
            self._play(another)


def _tries(arc: Arc, node: Node, job: Job, played: Played, feeding: Feeding) -> Iterator[Job]:
    visits = _visits_before(node, played)
    match node.step.action:
        case Repeat(at_most=at_most):
            for departures in _rounds(at_most + 1, visits, job):
                yield replace(job, departures=departures)
        case Ask():
            for one in _departures(visits[:1], job):
                if _may_lead(one, arc):
                    yield job.with_one(one)
        case _:
            deciding = feeding.questions_of(node)
            nearest = [visit for visit in visits if visit.step in deciding]
            others = [visit for visit in visits if visit.step not in deciding]
            for one in _departures(nearest, job):
                yield job.with_one(one)
            for rig in _rigs(job.bench):
                yield replace(rig, departures=job.departures)
            for times, at in ((2, nearest), (1, others[:6])):
                for one in _departures(at, job):
                    yield job.with_one(replace(one, times=times))


def _rounds(times: int, visits: list[Visit], job: Job) -> Iterator[tuple[Departure, ...]]:
    """What led to a loop, again and again: until it is left by its limit."""
    for index, one in enumerate(job.departures):
        yield (*job.departures[:index], replace(one, times=times), *job.departures[index + 1 :])
    yield tuple(replace(one, times=times) for one in job.departures)
    for one in _departures(visits[:3], job):
        yield (*job.departures, replace(one, times=times))


def _departures(visits: list[Visit], job: Job) -> Iterator[Departure]:
    """What can go otherwise at these questions."""
    nodes = job.bench.program.nodes
    for visit in visits:
        yield from departures_at(visit, nodes[visit.step], job.bench.unit)


def _may_lead(departure: Departure, arc: Arc) -> bool:
    """Whether another answer leads by its own word where it is wanted, or may."""
    return not isinstance(departure, Otherwise) or departure.leads in ("", arc[1])


def _visits_before(node: Node, played: Played) -> list[Visit]:
    """The questions of a job, each step once, those that were asked last before a step first."""
    latest = reversed(played.visits_before(node.name))
    return list({visit.step: visit for visit in latest}.values())


def _beginnings(bench: Bench) -> Iterator[Job]:
    """The job as it is asked for, then on rigs found in every way, then with other papers."""
    yield Job(bench, "as found")
    yield from _rigs(bench)
    for about, papers in _other_papers(bench.papers):
        yield Job(replace(bench, papers=papers), about, as_given=False)


def _rigs(bench: Bench) -> Iterator[Job]:
    """The same job with the rotors found in every way: all of them, and one alone."""
    if bench.unit is None:
        return
    rotors = list(bench.found)
    for setting in Setting:
        for rotation in Rotation:
            every = {rotor: Found(setting, rotation) for rotor in rotors}
            yield Job(replace(bench, found=every), f"every rotor {setting}, opening {rotation}")
    right = {name: Found(Setting.AS_DRAWN, Rotation.CLOCKWISE) for name in rotors}
    for rotor in rotors:
        for setting in Setting:
            one = {**right, rotor: Found(setting, Rotation.CLOCKWISE)}
            yield Job(replace(bench, found=one), f"{rotor} rotor {setting}, the others as drawn")
    stroke = bench.unit.stroke_turns.value - SHORTER
    yield Job(replace(bench, stroke_turns=stroke), f"a stroke of {stroke:g} turns")


def _other_papers(papers: Mapping[str, Value]) -> Iterator[tuple[str, Mapping[str, Value]]]:
    """Two papers that say the same, a date that is past, a number below or above all others."""
    letters = [name for name, value in papers.items() if value.kind is Kind.LETTERS]
    for one, other in combinations(letters, 2):
        yield f"{one} and {other} the same", {**papers, other: papers[one]}
    for name, value in papers.items():
        if value.kind is Kind.DATE:
            yield f"{name} long past", {**papers, name: Value(Kind.DATE, date(2000, 1, 1))}
        if value.kind is Kind.NUMBER:
            for number in (0.0, LARGEST):
                amount = Quantity(number, value.content.unit)
                yield f"{name} {number:g}", {**papers, name: Value(Kind.NUMBER, amount)}
