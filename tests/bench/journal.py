"""How long the journal and its record take on this machine and this disk.

Run by hand: ``python -m tests.bench.journal`` (``--folder`` on the disk that is to be measured).
Prints four figures beside their floors:

- the *record* of a job of 2,000 lines with 150 clips, as a whole process;
- to *resume* that job: from the start of the process to the first sentence;
- to *append* one line to the journal and bring it to the disk, each line of that job once more;
- to *verify* 100,000 lines: the whole process, and of that reading, chain and tree alone.

The job is one by keyboard that has come to a reading of contacts, which is read, refused, and asked
about again and again, through the same code as any other. The 100,000 lines are made in memory, as
nobody waits for so many syncs; what is measured with them reads them from the disk.
"""

from __future__ import annotations

import argparse
import itertools
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from assistant.cli.conduct import Conductor
from assistant.cli.job_folder import create_sources, opening_of
from assistant.cli.speaker import speaker_with
from assistant.journal import chain
from assistant.journal.chain import link
from assistant.journal.entry import Entry, timestamp
from assistant.journal.store import FILE_NAME, Journal, read, read_lines
from assistant.journal.tree import root
from assistant.language.grammar import Grammar
from assistant.session.account import account
from assistant.session.effects import Listen
from assistant.session.events import Heard, Opened
from assistant.speech.ears import SAMPLE_RATE, Ended, Reply, Samples, Spoken
from assistant.speech.fakes import FakeVoice
from assistant.speech.typed import understood
from tests.cli.command import KF_07, ROOT, two_ends
from tests.session.job import TO_READING

__all__ = ["long_journal", "spoken_job"]

AGAIN = ("one and two closed three and four open", "wrong", "repeat contacts", "where am i")
"""Replies after which the job stands where it stood, over and over."""

CLIP_SECONDS = 2.5


@dataclass(slots=True)
class _Ears:
    """So many replies, of which some have sound."""

    count: int
    sounds: int
    chance: np.random.Generator
    _replies: Iterator[str] = field(init=False)
    _heard: int = 0

    def __post_init__(self) -> None:
        self._replies = _replies()

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """The next reply, at once; `patience` has no effect."""
        if self._heard == self.count:
            return Ended()
        self._heard += 1
        samples: Samples | None = None
        # Spread evenly over the replies.
        if self._heard * self.sounds // self.count > (self._heard - 1) * self.sounds // self.count:
            length = int(CLIP_SECONDS * SAMPLE_RATE)
            samples = self.chance.normal(0, 0.1, length).astype(np.float32)
        engine = "typed" if samples is None else "bench"
        return Spoken(understood(next(self._replies), grammar, engine), samples)


def spoken_job(folder: Path, lines: int, clips: int) -> None:
    """A job of so many lines and clips, as ``gloveside run`` writes it; it is not at its end."""
    job = create_sources(folder, two_ends(), KF_07, {})
    times = _times()
    with Journal.create(folder) as journal:
        Conductor(
            session=job.session(),
            journal=journal,
            folder=folder,
            ears=_Ears(lines - 1, clips, np.random.default_rng(1)),
            speaker=speaker_with(FakeVoice()),
            clock=lambda: next(times),
        ).begin(opening_of(job))


def long_journal(folder: Path, lines: int) -> None:
    """The same without clips, written in one piece."""
    job = create_sources(folder, two_ends(), KF_07, {})
    session, times, replies = job.session(), _times(), _replies()
    entry: Entry | None = None
    extra = opening_of(job)
    with (folder / FILE_NAME).open("wb") as file:
        event: Opened | Heard = Opened(next(times))
        for number in range(1, lines + 1):
            step = session.step
            effects = session.receive(event)
            body = {**account(step, event, effects), **extra}
            entry = link(entry.line if entry else None, number, event.at, body)
            file.write(entry.line + b"\n")
            listen = next(effect for effect in effects if isinstance(effect, Listen))
            event = Heard(next(times), understood(next(replies), listen.grammar, "typed"))
            extra = {}


def _replies() -> Iterator[str]:
    return itertools.chain(TO_READING, itertools.cycle(AGAIN))


def _times() -> Iterator[str]:
    begun = datetime(2031, 5, 14, 8, tzinfo=UTC)
    return (timestamp(begun + timedelta(seconds=3 * number)) for number in itertools.count())


def appended(folder: Path, entries: Sequence[Entry]) -> list[float]:
    """Seconds to write each of the entries to a journal of its own."""
    taken: list[float] = []
    with Journal.create(folder) as journal:
        for entry in entries:
            begun = time.perf_counter()
            journal.append(entry.time, entry.body)
            taken.append(time.perf_counter() - begun)
    return taken


def _gloveside(*words: str | Path) -> None:
    """Run a command to its end."""
    command = [sys.executable, "-m", "assistant", *map(str, words)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def _resume(folder: Path) -> None:
    """Continue a job up to the first sentence that it says."""
    words = ("run", two_ends(), "--unit", KF_07, "--job", folder, "--ears", "typed")
    command = [sys.executable, "-m", "assistant", *map(str, words), "--voice", "off"]
    with subprocess.Popen(
        command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as process:
        assert process.stdin and process.stdout
        assert process.stdout.readline(), "it says nothing"
        process.kill()


def _check(folder: Path) -> None:
    """Read a journal and check its chain and tree, without clips and replay."""
    lines = read_lines(folder)
    problems = chain.check(lines)
    root(line[:-1] for line in lines)
    assert not [problem for problem in problems if problem.level is chain.Level.ERROR]


def _seconds(work: Callable[[], None], times: int) -> list[float]:
    """How long some work took, each time, the shortest first."""
    taken: list[float] = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return sorted(taken)


def _from_to(taken: Sequence[float]) -> str:
    return f"{taken[0]:.2f} to {taken[-1]:.2f} s"


def _figures(folder: Path, args: argparse.Namespace) -> Iterator[str]:
    job, copy, long = folder / "job", folder / "copy", folder / "long"
    spoken_job(job, args.lines, args.clips)
    entries = read(job)
    sounds = len(list((job / "clips").iterdir()))
    what = f"{len(entries):,} lines with {sounds} clips"
    made = _seconds(lambda: _gloveside("record", job), 3)
    yield f"record of {what}: {_from_to(made)} (floor 3 s)"
    resumed = _seconds(lambda: _resume(job), 3)
    yield f"resume after {what}: {_from_to(resumed)} (floor 1 s)"
    taken = sorted(1000 * seconds for seconds in appended(copy, entries))
    middle, late = (taken[int(len(taken) * share)] for share in (0.5, 0.95))
    yield f"append: {middle:.2f} ms in the median, {late:.2f} ms at p95 (floor 20 ms)"
    long_journal(long, args.many)
    checked = _seconds(lambda: _check(long), 3)
    verified = _seconds(lambda: _gloveside("verify", long), 3)
    yield f"verify {args.many:,} lines: {_from_to(verified)} (floor 5 s),"
    yield f"  of which reading, chain and tree {_from_to(checked)}"


def main() -> None:
    """Print the four figures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--folder", type=Path, help="on the disk that is to be measured")
    parser.add_argument("--lines", type=int, default=2_000)
    parser.add_argument("--clips", type=int, default=150)
    parser.add_argument("--many", type=int, default=100_000)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory(dir=args.folder) as folder:
        for figure in _figures(Path(folder), args):
            print(figure, flush=True)


if __name__ == "__main__":
    main()
