"""The error campaign: one human error a job, at every place where it is possible.

Run by hand: ``python -m tests.campaign.campaign`` plays every fault-free job and every error, and
prints the table of the README. Of each random unit the errors are chosen that were played least
so far, counted by kind and step, so that every place is met.
"""

from __future__ import annotations

import random
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.rig.random_units import unit_from
from tests.campaign.jobs import Caught, Report, mistakes_at, mistakes_of_papers, play_job
from tests.campaign.spread import spread_evenly

__all__ = ["Case", "cases", "play_all", "table"]

ERRORS = 4000
FAULT_FREE = 2000
WORKERS = 2
ERRORS_A_UNIT = 25


@dataclass(frozen=True, slots=True)
class Case:
    """One job to play: the seed of its unit, and the error to make in it."""

    seed: int
    mistake: Mistake | None


def cases(count: int) -> Iterator[Case]:
    """Jobs with one error each, spread evenly over kinds and steps."""
    spread = spread_evenly(count, _possible, lambda one: (one.kind, one.step), ERRORS_A_UNIT)
    return (Case(seed, mistake) for seed, mistake in spread)


def _possible(seed: int) -> Iterator[Mistake]:
    """Every error that can be made in the job of a unit."""
    unit, _ = unit_from(random.Random(seed))
    for place in dict.fromkeys(play_job(seed).places):
        yield from mistakes_at(place, unit)
    yield from mistakes_of_papers()


def _play(case: Case) -> Report:
    return play_job(case.seed, case.mistake)


def play_all(of: Iterable[Case]) -> list[Report]:
    """Play jobs on two processes."""
    with ProcessPoolExecutor(WORKERS) as pool:
        return list(pool.map(_play, of, chunksize=50))


def table(reports: Iterable[Report]) -> str:
    """What became of each kind of error, as a table in Markdown."""
    rows: dict[MistakeKind, Counter[Caught]] = defaultdict(Counter)
    for report in reports:
        if report.mistake is not None and report.made and report.caught is not None:
            rows[report.mistake.kind][report.caught] += 1
    head = f"| error | jobs | {' | '.join(Caught)} |"
    lines = [head, "| --- | " + "---: | " * (len(Caught) + 1)]
    for kind in MistakeKind:
        found = rows[kind]
        counts = " | ".join(str(found[when]) for when in Caught)
        lines.append(f"| {kind} | {sum(found.values())} | {counts} |")
    return "\n".join(lines)


def main() -> int:
    """Play everything; answers 1 where a job ended done with a rotor wrong, or held falsely."""
    began = time.monotonic()
    free = play_all(Case(seed, None) for seed in range(FAULT_FREE))
    false = [report for report in free if not report.finished or report.held or report.wrong]
    print(f"{len(free)} fault-free jobs: {len(false)} with a hold or a rotor wrong.")
    reports = play_all(list(cases(ERRORS)))
    made = [report for report in reports if report.made]
    print(f"{len(made)} jobs with one error each, of {len(reports)} planned.\n")
    print(table(reports))
    harmful = [report for report in made if report.caught is Caught.HARMFUL]
    for report in harmful:
        print(f"harmful: seed {report.seed}, {report.mistake}, {report.wrong}")
    print(f"\n{time.monotonic() - began:.0f} s on {WORKERS} processes.")
    return 1 if harmful or false else 0


if __name__ == "__main__":
    sys.exit(main())
