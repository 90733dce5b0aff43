"""``gloveside verify``: the journal's chain, the clips, the sources and the replay."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.job_folder import load_job
from assistant.journal import chain, clips
from assistant.journal.chain import Level, Problem
from assistant.journal.entry import Entry
from assistant.journal.replay import ReplayError, replay
from assistant.journal.store import read_lines
from assistant.procedure.problems import FileRefused

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("job", type=Path, metavar="JOB", help="the job folder")


def run(args: argparse.Namespace) -> Exit:
    """Check everything, print what is wrong with its line, and say what was checked."""
    entries, broken = chain.walk(read_lines(args.job))
    problems = [*broken, *clips.check(args.job, entries)]
    if not any(problem.level is Level.ERROR for problem in problems):
        problems += _replayed(args.job, entries)
    for problem in problems:
        where = f"{args.job / 'journal.jsonl'}:{problem.line}"
        print(f"{where}: {problem.level} {problem.what}; {problem.remedy}")
    if any(problem.level is Level.ERROR for problem in problems):
        return Exit.PROBLEMS
    print(f"{len(entries)} entries: chain, clips, sources and replay are as they should be.")
    print(f"Last line: {entries[-1].hash}")
    return Exit.DONE


def _replayed(folder: Path, entries: Sequence[Entry]) -> Iterator[Problem]:
    if not entries:
        yield Problem(1, "the journal is empty", "the job was never begun")
        return
    try:
        job = load_job(folder, entries[0])
        replay(job.session(), entries)
    except ReplayError as error:
        yield Problem(error.line, error.what, "do not rely on this job")
    except (Complaint, FileRefused) as error:
        yield Problem(1, str(error), "put the sources back from a copy")
