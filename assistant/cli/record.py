"""``gloveside record``: the record of a job, to read, to hear, or for another program."""

from __future__ import annotations

import argparse
import enum
from collections.abc import Iterator, Sequence
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.files import STANDARD_OUTPUT, put, write_out
from assistant.cli.job_folder import Job, load_job, replayed
from assistant.cli.unread import tell
from assistant.journal import clips
from assistant.journal.canonical import digest
from assistant.journal.chain import Level
from assistant.journal.entry import Entry, is_finished
from assistant.journal.proofs import locked_by
from assistant.journal.replay import ReplayError
from assistant.journal.signature import SIGNATURE_FILE, SignatureError, check, signatures_in
from assistant.journal.store import JournalError, read
from assistant.procedure.problems import FileRefused
from assistant.procedure.unit_sheet import load_unit
from assistant.record.beside import Beside
from assistant.record.page import render
from assistant.record.plain import to_json
from assistant.record.readings import to_csv
from assistant.record.signatures import due_in
from assistant.record.summary import Summary, summarise
from assistant.record.words import Field, clean, fields_of, mapping_of
from assistant.session.core import Session
from assistant.trade.unit import Unit

__all__ = ["Format", "arguments", "renew_record", "run", "unit_of", "write_record"]

_UNITS = "sources/unit/"

_OF_A_SIGNATURE = ("name", "time", "meaning", "public_key", "root", "signature")
"""What of a signature is signed, and the signature: whatever else stands beside them is not."""


class Format(enum.StrEnum):
    """What the record is written as."""

    HTML = "html"
    JSON = "json"
    CSV = "csv"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("job", type=Path, metavar="JOB", help="the job folder")
    parser.add_argument(
        "--format",
        choices=[str(form) for form in Format],
        default=str(Format.HTML),
        help="html to read and hear; json the whole record, csv the readings and recorded values "
        "for another program (default: html)",
    )
    parser.add_argument(
        "--no-audio",
        action="store_true",
        help="leave the sound out of the page, and name the clips",
    )
    parser.add_argument(
        "--output",
        type=Path,
        metavar="FILE",
        help="where to write; - is standard output (default: in the job folder)",
    )


def run(args: argparse.Namespace) -> Exit:
    """Write the record of a job and say where it is."""
    form = Format(args.format)
    entries = _entries(args.job)
    if form is Format.CSV:
        job = _job(args.job, entries)
        text = to_csv(entries, None if job is None else locked_by(job.program))
    elif form is Format.JSON:
        text = to_json(_summary(args.job, entries))
    else:
        text = _page(args.job, entries, sound=not args.no_audio)
    if args.output == STANDARD_OUTPUT:
        write_out(text, args.output)
    else:
        print(_write(args.job, args.output or args.job / f"record.{form}", text))
    return Exit.DONE


def write_record(folder: Path) -> Path:
    """Write ``record.html`` into a job folder; raises JournalError where the journal is broken."""
    return _write(folder, folder / "record.html", _page(folder, _entries(folder), sound=True))


def renew_record(folder: Path) -> None:
    """The same after a job or a review: what was done there stands, whether it can be shown or not.

    That it could not be written is said and stops nothing.
    """
    try:
        write_record(folder)
    except (Complaint, JournalError) as error:
        tell(f"gloveside: {error}")


def unit_of(folder: Path, entries: Sequence[Entry]) -> Unit | None:
    """The unit sheet that the job ran from; None where it had none or it is not as it was."""
    named = mapping_of(entries[0].body.get("job")).get("unit_file")
    if not isinstance(named, str) or not named.startswith(_UNITS) or ".." in Path(named).parts:
        return None
    expected = mapping_of(entries[0].body.get("sources")).get(named)
    file = folder / named
    try:
        return load_unit(file) if digest(file.read_bytes()) == expected else None
    except (OSError, FileRefused):
        return None


def _summary(folder: Path, entries: Sequence[Entry]) -> Summary:
    job = _job(folder, entries)
    due = None if job is None else due_in(job.program)
    by_key, faults = _key_signatures(folder, entries)
    session = _unfinished(folder, entries)
    beside = Beside(
        locked=None if job is None else locked_by(job.program),
        known=None if session is None else session.known,
        held=session is not None and session.held,
        lost_clips=tuple(_lost_clips(folder, entries)),
        key_signatures=by_key,
        signature_faults=faults,
    )
    return summarise(entries, unit_of(folder, entries), due, beside)


def _job(folder: Path, entries: Sequence[Entry]) -> Job | None:
    """What the job runs from; None where that is not as it was."""
    try:
        return load_job(folder, entries[0])
    except (Complaint, FileRefused):
        return None


def _unfinished(folder: Path, entries: Sequence[Entry]) -> Session | None:
    """An unfinished job where its journal ends; None where it ended or cannot be replayed."""
    if is_finished(entries):
        return None
    try:
        _, session, _ = replayed(folder, entries)
    except (Complaint, FileRefused, ReplayError):
        return None
    return session


def _lost_clips(folder: Path, entries: Sequence[Entry]) -> Iterator[int]:
    """The lines whose recording is missing or was changed."""
    for problem in clips.check(folder, entries):
        if problem.level is Level.ERROR:
            yield problem.line


def _key_signatures(
    folder: Path, entries: Sequence[Entry]
) -> tuple[tuple[tuple[Field, ...], ...], tuple[str, ...]]:
    """What each signature by a key says that is right, and what is wrong with the others."""
    file = folder / SIGNATURE_FILE
    if not file.exists():
        return (), ()
    try:
        held = signatures_in(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return (), (f"{SIGNATURE_FILE} cannot be read",)
    lines = [entry.line + b"\n" for entry in entries]
    right: list[tuple[Field, ...]] = []
    wrong: list[str] = []
    for number, one in enumerate(held, 1):
        try:
            added = check(one, lines)
        except SignatureError as error:
            what, _, _ = str(error).partition("; ")
            wrong.append(clean(f"signature {number} is not right ({what})"))
            continue
        covered = added[0].line - 1 if added else len(lines)
        told = [field for field in fields_of(one) if field.name in _OF_A_SIGNATURE]
        right.append((*told, Field("covers", f"lines 1 to {covered} of {len(lines)}")))
    return tuple(right), tuple(wrong)


def _entries(folder: Path) -> Sequence[Entry]:
    entries = read(folder)
    if not entries:
        raise Complaint(f"{folder}: nothing was said in this job yet; run it first")
    return entries


def _page(folder: Path, entries: Sequence[Entry], *, sound: bool) -> str:
    return render(_summary(folder, entries), clips.load(folder, entries) if sound else None)


def _write(folder: Path, target: Path, text: str) -> Path:
    try:
        # Bytes, as a text file would turn the line ends of a CSV into others on some systems.
        put(target, text.encode("utf-8"))
    except OSError as error:
        raise Complaint(
            f"{target}: cannot be written ({error.strerror}); make room, or name another file: "
            f"'gloveside record {folder} --output FILE'"
        ) from error
    return target
