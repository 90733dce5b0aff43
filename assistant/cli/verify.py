"""``gloveside verify``: the journal's chain, the clips, the sources, the replay and the reviews."""

from __future__ import annotations

import argparse
import contextlib
import gc
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.job_folder import replayed
from assistant.journal import chain, clips, signature
from assistant.journal.chain import Level, Problem
from assistant.journal.entry import Entry
from assistant.journal.kept_root import check_root, covered, kept_prefix
from assistant.journal.replay import ReplayError
from assistant.journal.review_lines import check_reviews
from assistant.journal.root_words import words_of
from assistant.journal.signature import SIGNATURE_FILE
from assistant.journal.store import read_lines
from assistant.journal.tree import root
from assistant.journal.verdicts import open_disagreements
from assistant.procedure.problems import FileRefused
from assistant.record.words import clean
from assistant.session.core import Session

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("job", type=Path, metavar="JOB", help="the job folder")
    parser.add_argument(
        "--root",
        nargs="+",
        metavar="WORD",
        help="the root that was kept: its four words, or 16 or more of its digits",
    )
    parser.add_argument("--last", metavar="HASH", help="the last line's hash that was kept")


def run(args: argparse.Namespace) -> Exit:
    """Check everything, print what is wrong with its line, and say what was checked."""
    prefix = _prefix(args.root)
    lines = read_lines(args.job)
    with _no_collector():
        entries, broken = chain.walk(lines)
        problems = [*broken, *clips.check(args.job, entries)]
        session = None
        if not _wrong(problems):
            problems += check_reviews(entries)
            session, faults = _replayed(args.job, entries)
            problems += faults
    if args.last is not None:
        problems += chain.check_last(lines, args.last)
    if prefix is not None:
        problems += check_root(lines, prefix)
    top = root(line.removesuffix(b"\n") for line in lines)
    problems += _signatures(args.job, lines)
    for problem in problems:
        where = f"{args.job / 'journal.jsonl'}:{problem.line}"
        print(f"{where}: {problem.level} {problem.what}; {problem.remedy}")
    if session is None or _wrong(problems):
        return Exit.PROBLEMS
    _print_sound(lines, top)
    print(f"State: {_state(session, entries)}")
    for entry in entries:
        if entry.kind == "compared":
            print(f"Line {entry.seq} compares with the journal of root {entry.body['with_root']}.")
    _print_proved(lines, prefix, args.last)
    return Exit.DONE


@contextlib.contextmanager
def _no_collector() -> Iterator[None]:
    """Read and replay without the search for garbage: little becomes any, and it takes a third."""
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def _prefix(kept: Sequence[str] | None) -> str | None:
    try:
        return None if kept is None else kept_prefix(" ".join(kept))
    except ValueError as error:
        raise Complaint(f"--root: {error}") from error


def _wrong(problems: Sequence[Problem]) -> bool:
    return any(problem.level is Level.ERROR for problem in problems)


def _print_sound(lines: Sequence[bytes], top: str) -> None:
    print(f"{len(lines)} entries: chain, clips, sources, replay and reviews are as they should be.")
    print(f"Last line: {chain.line_hash(lines[-1])}")
    print(f"Root: {top}")
    print(f"Root in words: {' '.join(words_of(top))}")


def _state(session: Session, entries: Sequence[Entry]) -> str:
    """How the job stands; every disagreement that is open holds it, and is told."""
    open_ones = [
        f" {one.by} does not agree with {one.what}." for one in open_disagreements(entries)
    ]
    if session.finished:
        state = "on hold, at its end." if open_ones else "at its end."
    else:
        held = session.held or bool(open_ones)
        state = f"{'on hold' if held else 'not at its end'}, at {session.step}."
    return state + "".join(open_ones)


def _print_proved(lines: Sequence[bytes], prefix: str | None, last: str | None) -> None:
    """What a root or a hash that was kept vouches for, and what nothing does."""
    count = len(lines)
    if prefix is None and last is None:
        print("Compare the root with the one on the record, or on paper: --root.")
        print(f"{_WITHOUT_ROOT} {_NEVER}")
        return
    known = count if prefix is None else covered(lines, prefix)
    if known == count:
        print("It is the journal whose hash was kept.")
    else:
        later = f"line {count} came" if known + 1 == count else f"lines {known + 1} to {count} came"
        it = "it" if known + 1 == count else "them"
        print(
            f"Lines 1 to {known} are those whose root was kept; {later} later, and that root does "
            f"not vouch for {it}."
        )
    print(_NEVER)


def _signatures(folder: Path, lines: Sequence[bytes]) -> Iterator[Problem]:
    """What is wrong with the signatures of the root, where there are any; the others are told."""
    file = folder / SIGNATURE_FILE
    if not file.exists():
        return
    try:
        held = signature.signatures_in(file.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        yield _unsigned(SIGNATURE_FILE, error, lines)
        return
    for number, one in enumerate(held, 1):
        which = f"{SIGNATURE_FILE}, signature {number}"
        try:
            added = signature.check(one, lines)
        except signature.SignatureError as error:
            yield _unsigned(which, error, lines)
            continue
        for problem in added:
            yield replace(problem, what=f"{which}: {problem.what}")
        name, key = clean(str(one["name"])), clean(str(one["public_key"]))
        print(f"{file}: {name}, signed by the holder of the key {key}.")


def _unsigned(which: str, error: Exception, lines: Sequence[bytes]) -> Problem:
    what, _, remedy = str(error).partition("; ")
    return Problem(max(len(lines), 1), f"{which}: {what}", remedy or "sign again")


_WITHOUT_ROOT = (
    "Not proved without a root kept elsewhere: that no lines were cut off at the end, and that "
    "nobody wrote the whole anew."
)
_NEVER = "Never proved: who spoke, who judged, and that the clock was right."

_SOURCES = "put the sources back from a copy, or read this job with the program that wrote it"


def _replayed(folder: Path, entries: Sequence[Entry]) -> tuple[Session | None, tuple[Problem, ...]]:
    """The session where the journal ends, or why it cannot be brought there."""
    if not entries:
        return None, (Problem(1, "the journal is empty", "the job was never begun"),)
    try:
        return replayed(folder, entries)[1], ()
    except ReplayError as error:
        return None, (Problem(error.line, error.what, chain.KEEP),)
    except Complaint as error:
        what, _, remedy = str(error).partition("; ")
        return None, (Problem(1, what, remedy or _SOURCES),)
    except FileRefused as error:
        return None, (Problem(1, str(error), _SOURCES),)
