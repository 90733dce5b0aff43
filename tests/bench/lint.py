"""How long ``gloveside lint`` takes, as a whole process, by the clock and on the processor.

Run by hand: ``python -m tests.bench.lint``. One generated procedure of 150 steps, of the kinds that
writers use most (floor 1 s), and 1,000 files: the shipped procedures, parts and unit sheets copied,
with a generated procedure of 150 steps beside every second copy (floor 60 s). Nothing is rendered.
"""

from __future__ import annotations

import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
STEPS = 150
FILES = 1000
RUNS = 5

HEAD = """\
procedure: generated-{number}
title: Look after pump {number}
revision: "{number}"
about: Generated to measure the linter.
steps:
"""

BLOCK = """\
  - step: read-{n}
    caution: Never reach behind guard {n}. The fan would catch you.
    say: What does gauge {n} show?
    ask: number
    unit: bar
    least: 0
    most: 16
    into: pressure-{n}
    record: {{pressure-{n}: pressure-{n}}}
  - step: open-{n}
    say: Open the drain of chamber {n}. Say done.
    ask: done
  - step: dry-{n}
    say: Is chamber {n} dry inside?
    ask: yes-no
    go: {{"yes": clean-{n}, "no": wait-{n}}}
  - step: wait-{n}
    say: Wait until it is dry.
    repeat: dry-{n}
    at-most: 2
    otherwise: wet-{n}
  - step: wet-{n}
    hold: Chamber {n} stays wet. Find out why.
    go: dry-{n}
  - step: clean-{n}
    say: Clean the seat of chamber {n}. Say mark when you see metal.
    ask: mark
    when: clean-at-{n}
    record: {{clean-at-{n}: clean-at-{n}}}
  - step: state-{n}
    say: Is the seat of chamber {n} sound, or damaged?
    ask: choice
    choices: [sound, damaged]
    go: {{sound: close-{n}, damaged: replace-{n}}}
  - step: replace-{n}
    say: Replace the seat. Say done.
    ask: done
  - step: close-{n}
    say: Close the drain of chamber {n}. Say done.
    ask: done
"""

END = """\
  - step: end
    say: The pump is looked after.
    end: job
"""


def generated(number: int, steps: int = STEPS) -> str:
    """A procedure of so many steps, with something of every kind that writers use."""
    blocks = [BLOCK.format(n=n) for n in range(1, steps // BLOCK.count("- step:") + 1)]
    rest = steps - 1 - sum(block.count("- step:") for block in blocks)
    more = [f"  - step: tell-{n}\n    say: Look at plate {n}.\n" for n in range(1, rest + 1)]
    return HEAD.format(number=number) + "".join([*blocks, *more]) + END


def thousand(folder: Path) -> Iterator[Path]:
    """So many files in a folder."""
    shipped = sorted((ROOT / "procedures").rglob("*.yaml"))
    count = 0
    while count < FILES:
        copy = folder / f"copy-{count}"
        for file in shipped:
            target = copy / file.relative_to(ROOT / "procedures")
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(file, target)
            yield target
            count += 1
        if (count // len(shipped)) % 2:
            own = copy / "generated.yaml"
            own.write_text(generated(count), encoding="utf-8")
            yield own
            count += 1


def seconds(files: list[Path]) -> tuple[float, float]:
    """How long the command takes on some files, by the clock and on the processor."""
    start, busy = time.perf_counter(), _busy()
    done = subprocess.run(
        [sys.executable, "-m", "assistant", "lint", *map(str, files)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    took = (time.perf_counter() - start, _busy() - busy)
    if done.returncode or done.stdout:
        sys.exit(f"something was found in what is to be measured:\n{done.stdout}{done.stderr}")
    return took


def _busy() -> float:
    """Processor time of the processes that were waited for [s]."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main() -> None:
    """Print what was measured."""
    with tempfile.TemporaryDirectory() as name:
        one = Path(name) / "one.yaml"
        one.write_text(generated(1), encoding="utf-8")
        steps = one.read_text(encoding="utf-8").count("- step:")
        clock, busy = zip(*(seconds([one]) for _ in range(RUNS)), strict=True)
        print(
            f"{steps} steps: {statistics.median(clock):.2f} s in the median of {RUNS}, at most "
            f"{max(clock):.2f} s, processor {statistics.median(busy):.2f} s (floor 1 s)"
        )
        files = list(thousand(Path(name)))[:FILES]
        took, used = seconds(files)
        print(f"{len(files)} files: {took:.1f} s, processor {used:.1f} s (floor 60 s)")


if __name__ == "__main__":
    main()
