"""How soon a board shows an event, and what boards cost the voice: ``python -m tests.bench.board``.

Whole rehearsed jobs, an event every fifth of a second, with no board, with one and with ten, each
in a Chromium profile of its own on this same machine. *Shown after* is the time from the handing
over of an event until it stands in the page, on every board. *Answered within* is what the voice
waits for: the session's answer to an event and its handing over. Times depend on what else the
machine does: the load is printed with them.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from assistant.board.board import Board
from assistant.board.view import first_view
from assistant.rig.soundless_job import in_meanings, play
from tests.bench.tables import DASH
from tests.board.browser import Browser, chromium, lacking, look_at, seen, until
from tests.rig.test_soundless_job import PROGRAM, session, technician, wrong


@dataclass
class Times:
    """What was measured of some jobs [ms]."""

    shown: list[float] = field(default_factory=list)
    answered: list[float] = field(default_factory=list)


@contextlib.contextmanager
def opened(board: Board | None) -> Iterator[None]:
    """A board that is open meanwhile, if there is one."""
    if board is None:
        yield
        return
    board.open()
    with contextlib.closing(board):
        yield


def one_job(browser: Browser, boards: int, pause: float, times: Times) -> None:
    """Do a job with so many boards beside it, `pause` seconds after each event."""
    rig = wrong("07")
    board = Board(first_view(PROGRAM, rig.unit)) if boards else None
    handed_over: list[float] = []
    with opened(board):
        pages = [look_at(browser, board.address) for _ in range(boards)] if board else []
        happening = play(session(rig.unit), technician(rig), in_meanings)
        while True:
            began = time.perf_counter()
            happened = next(happening, None)
            if happened is None:
                break
            if board is not None:
                handed_over.append(1000 * time.time())
                board.show(*happened)
            times.answered.append(1000 * (time.perf_counter() - began))
            time.sleep(pause)
        for page in pages:
            until(page, len(handed_over))
            shown = seen(page)
            assert len(shown) == len(handed_over), "a board missed a step"
            times.shown += [one["at"] - handed_over[one["number"] - 1] for one in shown]
            page.context.close()


def figures(times: Sequence[float]) -> str:
    """Median, 95th percentile and longest, in cells of a table."""
    if not times:
        return " | ".join([DASH] * 3)
    return " | ".join(f"{np.percentile(times, part):.1f}" for part in (50, 95, 100))


def main() -> None:
    """Measure, and print a table."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--boards", type=int, nargs="+", default=[0, 1, 10])
    options.add_argument("--jobs", type=int, default=2, help="with each number of boards")
    options.add_argument("--pause", type=float, default=0.2, help="after each event [s]")
    args = options.parse_args()
    if lacks := lacking():
        raise SystemExit(lacks)
    print(
        "| boards | events | shown after: median [ms] | p95 | longest "
        "| answered within: median [ms] | p95 | longest |"
    )
    print("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    with chromium() as browser:
        for boards in args.boards:
            times = Times()
            for _ in range(args.jobs):
                one_job(browser, boards, args.pause, times)
            cells = f"{figures(times.shown)} | {figures(times.answered)}"
            print(f"| {boards} | {len(times.answered)} | {cells} |", flush=True)
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")


if __name__ == "__main__":
    main()
