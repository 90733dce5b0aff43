"""Spoiled files through lint and through the loader of unit sheets: nothing may fail or hang.

Run by hand: ``python -m tests.procedure.mutated_files --count 10000``.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from assistant.procedure.problems import FileRefused
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.rules.registry import RULES
from assistant.procedure.unit_rules.registry import UNIT_RULES
from assistant.procedure.unit_sheet import load_unit
from tests.procedure.rules.samples import MEANS
from tests.procedure.shipped import PROCEDURES
from tests.procedure.spoiling import spoiled_files

__all__ = ["LONGEST_SECONDS", "Outcome", "outcomes"]

LONGEST_SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a spoiled file.

    Args:
        file: its name.
        spoil: how it was spoiled.
        kind: ``refused`` by the loader, ``judged`` (a rule found something) or ``clean``.
        seconds: how long it took, on the processor.
    """

    file: str
    spoil: str
    kind: str
    seconds: float


def outcomes(count: int, folder: Path) -> Iterator[Outcome]:
    """Lint so many spoiled files; whatever is raised but `FileRefused` comes through.

    Args:
        count: how many.
        folder: an empty folder to write them to.
    """
    shutil.copytree(PROCEDURES, folder, dirs_exist_ok=True)
    for file, spoil, content in islice(spoiled_files(), count):
        copy = folder / file.relative_to(PROCEDURES)
        copy.write_bytes(content)
        begun = time.process_time()
        kind = _kind_of(copy)
        if file.parent.name == "units":
            _load(copy)
        yield Outcome(file.name, spoil.__name__, kind, time.process_time() - begun)
        shutil.copyfile(file, copy)


def _kind_of(file: Path) -> str:
    problems = list(lint_file(file, MEANS))
    for problem in problems:
        "\n".join((str(problem), *problem.way)).encode("utf-8")  # it has to be printed
    if any(problem.rule not in RULES.keys() | UNIT_RULES.keys() for problem in problems):
        return "refused"
    return "judged" if problems else "clean"


def _load(sheet: Path) -> None:
    try:
        load_unit(sheet)
    except FileRefused:
        return


def main() -> int:
    """Lint them all; answers 1 where one took too long."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=10_000, help="how many files")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        all_of_them = list(outcomes(args.count, Path(folder)))
    kinds = Counter(one.kind for one in all_of_them)
    slowest = max(all_of_them, key=lambda one: one.seconds)
    print(f"{len(all_of_them)} files: " + ", ".join(f"{n} {kind}" for kind, n in kinds.items()))
    print(f"{sum(one.seconds for one in all_of_them):.0f} s on the processor")
    print(f"slowest: {slowest.seconds:.2f} s, {slowest.file}, {slowest.spoil}")
    return 1 if slowest.seconds > LONGEST_SECONDS else 0


if __name__ == "__main__":
    sys.exit(main())
