"""Kill a process that keeps clips, also while one is written, and look at what is left.

Run by hand: ``python -m tests.bench.clip_kills --kills 200 --seed 1``. The process does what a job
does with each reply: it keeps the clip, and then writes the entry that names it and its SHA-256. It
is killed (SIGKILL) at a random moment, and started again on the same folder.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.journal import chain, clips
from assistant.journal.chain import Level
from assistant.journal.store import read
from tests.cli.command import ROOT

__all__ = ["ClipKill", "clip_kills"]

KEEPS_CLIPS = """
import sys
from pathlib import Path
import numpy as np
from assistant.journal import clips
from assistant.journal.entry import opening
from assistant.journal.store import Journal
folder = Path(sys.argv[1])
begun = (folder / "journal.jsonl").exists()
with (Journal.open if begun else Journal.create)(folder) as journal:
    if not journal.entries:
        journal.append("2031-05-14T08:00:00.000Z", opening({}, {}, {}, {}, "bench"))
    print("ready", flush=True)
    while True:
        sound = np.linspace(-1, 1, 160_000, dtype=np.float32)
        clip = clips.keep(folder, clips.next_number(folder), sound)
        journal.append("2031-05-14T08:00:01.000Z", {"kind": "heard", "clip": clip})
"""


@dataclass(frozen=True, slots=True)
class ClipKill:
    """One kill.

    Args:
        entries: in the journal afterwards.
        left_over: clips that no entry names, of which at most one a kill can be.
    """

    entries: int
    left_over: int


def clip_kills(folder: Path, chance: random.Random, count: int) -> Iterator[ClipKill]:
    """Kill so many times; raises AssertionError where an entry's clip is not whole."""
    for number in range(1, count + 1):
        process = subprocess.Popen(
            [sys.executable, "-c", KEEPS_CLIPS, str(folder)], stdout=subprocess.PIPE, cwd=ROOT
        )
        assert process.stdout
        assert process.stdout.readline() == b"ready\n", "it did not come up again"
        time.sleep(0.05 * chance.random())
        process.kill()
        process.wait()
        lines = chain.split_lines((folder / "journal.jsonl").read_bytes())
        whole = [line for line in lines if line.endswith(b"\n")]
        assert not [p for p in chain.check(whole) if p.level is Level.ERROR]
        entries = read(folder)
        problems = clips.check(folder, entries)
        assert not [problem for problem in problems if problem.level is Level.ERROR], problems
        assert len(problems) <= number, "more clips without an entry than kills"
        yield ClipKill(len(entries), len(problems))


def main() -> None:
    """Print how many entries and clips there are in the end."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        *_, last = clip_kills(Path(folder), random.Random(args.seed), args.kills)
    print(f"{args.kills} kills, {last.entries - 1} entries with a whole clip each, ")
    print(f"{last.left_over} clips without an entry: written, and killed before their entry.")


if __name__ == "__main__":
    main()
