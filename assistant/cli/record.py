"""``gloveside record``: the HTML record of a job."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.journal import clips
from assistant.journal.store import read
from assistant.record.page import render
from assistant.record.summary import summarise

__all__ = ["arguments", "run", "write_record"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("job", type=Path, metavar="JOB", help="the job folder")


def run(args: argparse.Namespace) -> Exit:
    """Write the record of a job and say where it is."""
    print(write_record(args.job))
    return Exit.DONE


def write_record(folder: Path) -> Path:
    """Write ``record.html`` into a job folder; raises JournalError where the journal is broken."""
    entries = read(folder)
    if not entries:
        raise Complaint(f"{folder}: nothing was said in this job yet; run it first")
    target = folder / "record.html"
    try:
        target.write_text(render(summarise(entries), clips.load(folder, entries)), "utf-8")
    except OSError as error:
        raise Complaint(
            f"{target}: cannot be written ({error.strerror}); make room, then run "
            f"'gloveside record {folder}'"
        ) from error
    return target
