"""The folder of a job: its journal, its clips, and copies of the files that it runs from.

A job keeps to the procedure and the unit sheet with which it began, whatever is edited meanwhile:
both are copied into ``sources/`` and read from there, and their SHA-256 stands in the first entry.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from assistant import __version__
from assistant.cli.complaint import Complaint
from assistant.journal.canonical import digest
from assistant.journal.entry import Entry, opening
from assistant.procedure.fit import check_fit
from assistant.procedure.load import load_program, sources_of
from assistant.procedure.program import Program
from assistant.procedure.unit_sheet import load_unit
from assistant.trade.unit import Unit

__all__ = ["Job", "create_sources", "has_journal", "load_job", "opening_of"]

_PROCEDURE = "sources/procedure"
_UNIT = "sources/unit"


@dataclass(frozen=True, slots=True)
class Job:
    """What a job runs from.

    Args:
        folder: the job folder.
        program: the checked procedure.
        unit: the checked unit sheet.
        procedure_file: the procedure's main file, within the folder.
        unit_file: the unit sheet, within the folder.
    """

    folder: Path
    program: Program
    unit: Unit
    procedure_file: Path
    unit_file: Path


def has_journal(folder: Path) -> bool:
    """Whether a job was begun in the folder."""
    return (folder / "journal.jsonl").exists()


def create_sources(folder: Path, procedure: Path, unit: Path) -> Job:
    """Check procedure and unit sheet, and copy them into a new job folder.

    Raises:
        FileRefused: one of them cannot be used, or they do not go together.
        Complaint: the folder cannot be written.
    """
    program = load_program(procedure)
    check_fit(program, load_unit(unit))
    try:
        for name in sources_of(procedure):
            _copy(procedure.parent / name, folder / _PROCEDURE / name)
        _copy(unit, folder / _UNIT / unit.name)
    except OSError as error:
        raise Complaint(
            f"{folder}: the job folder cannot be written ({error.strerror}); choose another"
        ) from error
    return _load(folder, folder / _PROCEDURE / procedure.name, folder / _UNIT / unit.name)


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


def _load(folder: Path, procedure: Path, unit: Path) -> Job:
    program, sheet = load_program(procedure), load_unit(unit)
    check_fit(program, sheet)
    return Job(folder, program, sheet, procedure, unit)


def opening_of(job: Job) -> dict[str, object]:
    """What the first entry of the journal says of the job."""
    procedure = job.program.procedure
    # Only what this job runs from: a start that failed may have left the files of another unit.
    procedures = job.folder / _PROCEDURE
    files = [procedures / name for name in sources_of(job.procedure_file)] + [job.unit_file]
    return opening(
        job={
            "procedure_file": str(job.procedure_file.relative_to(job.folder)),
            "unit_file": str(job.unit_file.relative_to(job.folder)),
        },
        sources={str(file.relative_to(job.folder)): digest(file.read_bytes()) for file in files},
        unit={"tag": job.unit.tag, "drawing": job.unit.drawing, "revision": job.unit.revision},
        procedure={
            "name": procedure.name,
            "title": procedure.title,
            "revision": procedure.revision,
        },
        program=__version__,
    )


def load_job(folder: Path, first: Entry) -> Job:
    """Load the sources of a job that was begun before.

    Raises:
        Complaint: a source is missing or is not the one with which the job began.
        FileRefused: a source can no longer be used by this version of the program.
    """
    sources, named = first.body.get("sources"), first.body.get("job")
    match sources, named:
        case dict(), {"procedure_file": str(procedure), "unit_file": str(unit)}:
            pass
        case _:
            raise Complaint(f"{folder}: the journal's first line names no sources; begin a new job")
    for name, expected in sources.items():
        file = folder / name
        if not name.startswith("sources/") or ".." in file.parts:
            raise Complaint(f"{folder}: the source '{name}' lies outside the job; begin a new job")
        if not file.is_file():
            raise Complaint(f"{file}: is missing; put the job folder back from a copy")
        if digest(file.read_bytes()) != expected:
            raise Complaint(
                f"{file}: was changed since the job began; put it back from a copy, "
                "or begin a new job with the changed file"
            )
    if not {procedure, unit} <= set(sources):
        raise Complaint(f"{folder}: the journal's first line names no sources; begin a new job")
    return _load(folder, folder / procedure, folder / unit)
