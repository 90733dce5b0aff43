"""The folder of a job: its journal, its clips, and copies of the files that it runs from.

A job keeps to the procedure and the unit sheet with which it began, whatever is edited meanwhile:
both are copied into ``sources/`` and read from there, and their SHA-256 stands in the first entry.
"""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant import __version__
from assistant.cli.complaint import Complaint
from assistant.cli.presence import is_there
from assistant.journal.canonical import digest
from assistant.journal.entry import FORMAT, Entry, opening
from assistant.journal.replay import Happened, ReplayError, replay
from assistant.language.english import english
from assistant.procedure.fit import check_fit
from assistant.procedure.load import load_program, sources_of
from assistant.procedure.papers import PapersError, read_papers
from assistant.procedure.program import Program
from assistant.procedure.unit_sheet import load_unit
from assistant.session.core import Session
from assistant.trade.unit import Unit

__all__ = ["Job", "create_sources", "has_journal", "load_job", "opening_of", "replayed"]

_PROCEDURE = "sources/procedure"
_UNIT = "sources/unit"


@dataclass(frozen=True, slots=True)
class Job:
    """What a job runs from.

    Args:
        folder: the job folder.
        program: the checked procedure.
        unit: the checked unit sheet; None for a procedure that needs none.
        papers: what was told about the job before it began, as it was typed.
        procedure_file: the procedure's main file, within the folder.
        unit_file: the unit sheet, within the folder, if there is one.
    """

    folder: Path
    program: Program
    unit: Unit | None
    papers: Mapping[str, str]
    procedure_file: Path
    unit_file: Path | None

    def session(self) -> Session:
        """A new session of this job."""
        papers = read_papers(self.program, self.papers)
        return Session(self.program, self.unit, english(), papers)


def has_journal(folder: Path) -> bool:
    """Whether a job was begun in the folder.

    Raises:
        Complaint: one may not look there.
    """
    return is_there(folder / "journal.jsonl", "choose a job folder that you may open")


def create_sources(
    folder: Path, procedure: Path, unit: Path | None, papers: Mapping[str, str]
) -> Job:
    """Check procedure, unit sheet and papers, and copy the files into a new job folder.

    Raises:
        FileRefused: a file cannot be used, or they do not go together.
        Complaint: the papers are not those that are wanted, a file's name is no UTF-8 or it lies
            among the copies of this job, or the folder cannot be written.
    """
    for file in (procedure, unit):
        if file is not None:
            _refuse_unkept_name(file)
    program = load_program(procedure)
    check_fit(program, None if unit is None else load_unit(unit))
    try:
        read_papers(program, papers)
    except PapersError as error:
        raise Complaint(f"{procedure}: {error}") from error
    try:
        for name in sources_of(procedure):
            _copy(procedure.parent / name, folder / _PROCEDURE / name)
        if unit is not None:
            _copy(unit, folder / _UNIT / unit.name)
    except OSError as error:
        raise Complaint(
            f"{folder}: the job folder cannot be written ({error.strerror}); choose another"
        ) from error
    unit_file = None if unit is None else folder / _UNIT / unit.name
    return _load(folder, folder / _PROCEDURE / procedure.name, unit_file, papers)


def _refuse_unkept_name(file: Path) -> None:
    """Refuse a file that the journal could not name: its text is UTF-8."""
    try:
        file.name.encode("utf-8")
    except UnicodeEncodeError as error:
        raise Complaint(f"{file}: the file's name is no UTF-8; rename it") from error


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        shutil.copyfile(source, target)
    except shutil.SameFileError as error:
        raise Complaint(
            f"{source}: is the job's own copy, and a job cannot begin from that; name the file of "
            "which it is a copy, or another job folder"
        ) from error


def _load(folder: Path, procedure: Path, unit: Path | None, papers: Mapping[str, str]) -> Job:
    program, sheet = load_program(procedure), None if unit is None else load_unit(unit)
    check_fit(program, sheet)
    return Job(folder, program, sheet, papers, procedure, unit)


def opening_of(job: Job) -> dict[str, object]:
    """What the first entry of the journal says of the job."""
    procedure = job.program.procedure
    # Only what this job runs from: a start that failed may have left the files of another unit.
    procedures = job.folder / _PROCEDURE
    files = [procedures / name for name in sources_of(job.procedure_file)]
    named = {"procedure_file": str(job.procedure_file.relative_to(job.folder))}
    if job.unit_file is not None:
        files.append(job.unit_file)
        named["unit_file"] = str(job.unit_file.relative_to(job.folder))
    body = opening(
        job={**named, "papers": dict(job.papers)},
        sources={str(file.relative_to(job.folder)): digest(file.read_bytes()) for file in files},
        unit=_heading(job.unit),
        procedure={
            "name": procedure.name,
            "title": procedure.title,
            "revision": procedure.revision,
        },
        program=__version__,
    )
    return {**body, "numbers": _numbers(job.unit)}


def _numbers(unit: Unit | None) -> dict[str, dict[str, object]]:
    """The numbers of the sheet, each with its unit and where it comes from."""
    if unit is None:
        return {}
    return {
        name.replace("_", "-"): {"value": n.value, "unit": n.unit, "origin": n.origin}
        for name, n in unit.numbers.items()
    }


def _heading(unit: Unit | None) -> dict[str, str]:
    if unit is None:
        return {}
    return {"tag": unit.tag, "drawing": unit.drawing, "revision": unit.revision}


def load_job(folder: Path, first: Entry) -> Job:
    """Load the sources of a job that was begun before.

    Raises:
        Complaint: a source is missing or is not the one with which the job began.
        FileRefused: a source can no longer be used by this version of the program.
    """
    sources, named = first.body.get("sources"), first.body.get("job")
    match sources, named:
        case dict(), {"procedure_file": str(procedure), "papers": dict(papers), **others}:
            unit = str(others["unit_file"]) if "unit_file" in others else None
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
    if not {procedure, unit or procedure} <= set(sources):
        raise Complaint(f"{folder}: the journal's first line names no sources; begin a new job")
    job = _load(folder, folder / procedure, folder / unit if unit else None, papers)
    try:
        read_papers(job.program, papers)
    except (PapersError, AttributeError) as error:
        raise Complaint(f"{folder}: the journal's first line names other papers") from error
    return job


def _refuse_other_heading(job: Job, first: Entry) -> None:
    """Refuse a first line that tells other data of unit and procedure than the sources give.

    The record shows them as they stand there. In an older format fewer of them were told.
    """
    given = opening_of(job)
    for field in ("unit", "procedure", "numbers"):
        told, right = first.body.get(field), given[field]
        if told == right:
            continue
        if not isinstance(told, Mapping) or not isinstance(right, Mapping):
            raise ReplayError(1, f"it has no '{field}', and the sources give one")
        names = told.keys() | right.keys() if first.body.get("format") == FORMAT else told.keys()
        for name in sorted(names):
            if told.get(name) != right.get(name):
                was, now = _shown(told.get(name)), _shown(right.get(name))
                raise ReplayError(1, f"it says {was} at '{field}, {name}', and the sources {now}")


def _shown(value: object) -> str:
    match value:
        case None:
            return "nothing"
        case {"value": number, "unit": str(unit)}:
            return f"{number} {unit}"
    return repr(value)


def replayed(folder: Path, entries: Sequence[Entry]) -> tuple[Job, Session, list[Happened]]:
    """A job that was begun before, its session brought to where the journal ends, and how it came.

    Raises:
        Complaint, FileRefused: as `load_job`.
        ReplayError: the journal says something else than its sources give.
    """
    job = load_job(folder, entries[0])
    _refuse_other_heading(job, entries[0])
    session = job.session()
    happened: list[Happened] = []
    replay(session, entries, lambda event, effects: happened.append((event, effects)))
    return job, session, happened
