"""``gloveside review``: the second checker hears a job, or compares a check of it."""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.job_folder import Job, has_journal, replayed
from assistant.cli.recognisers import add_recogniser
from assistant.cli.record import renew_record, unit_of
from assistant.cli.review_by_ear import hear
from assistant.cli.run import clock
from assistant.cli.voices import add_voice
from assistant.journal.entry import Entry, is_finished
from assistant.journal.independent import Point, check_of, compare, visit_of
from assistant.journal.proofs import locked_by
from assistant.journal.replay import ReplayError
from assistant.journal.root_words import words_of
from assistant.journal.store import Journal, read
from assistant.journal.tree import root
from assistant.journal.verdicts import compared, comparison_with, open_disagreements
from assistant.language.spelling import letters_and_digits
from assistant.trade.verification import independence_faults, same_person

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("job", type=Path, metavar="JOB", help="the job folder")
    parser.add_argument("--checker", required=True, metavar="NAME", help="who checks")
    parser.add_argument(
        "--against",
        type=Path,
        metavar="CHECK",
        help="the job folder of an independent check of the same unit, to compare with",
    )
    parser.add_argument(
        "--ears", default="mic", metavar="mic|typed|FOLDER", help="as for run (default: mic)"
    )
    add_voice(parser, "on")
    add_recogniser(parser)


def run(args: argparse.Namespace) -> Exit:
    """Take the checker's verdicts into the journal; a disagreement holds the job."""
    # A byte that is no UTF-8 comes as a character that cannot be printed, nor kept.
    if not letters_and_digits(args.checker) or not args.checker.isprintable():
        raise Complaint("--checker: name who checks, in letters or digits")
    if not has_journal(args.job):
        raise Complaint(f"{args.job}: no job was begun there; name the folder of a job")
    with Journal.open(args.job) as journal:
        if not journal.entries:
            raise Complaint(f"{args.job}: nothing was said in this job yet; run it first")
        job = _sound(args.job, journal.entries)
        ended, before = Exit.DONE, len(journal.entries)
        if args.against is not None:
            _compare(args, journal, job)
        else:
            ended = hear(args, journal, job)
        left = list(open_disagreements(journal.entries))
        words = " ".join(words_of(journal.root))
        added = len(journal.entries) > before
    renew_record(args.job)
    for one in left:
        print(f"On hold, line {one.seq}: {one.by} does not agree with {one.what}.")
        print(f"  To clear it: {one.to_clear}.")
    which = "new words, for the work order" if added else "words are as before"
    print(f"The journal's {which}: {words}")
    return Exit.HELD if left else ended


def _sound(folder: Path, entries: Sequence[Entry]) -> Job:
    """The job; a journal that says something else than its sources give is refused."""
    try:
        return replayed(folder, entries)[0]
    except ReplayError as error:
        raise Complaint(f"{folder}: {error}; 'gloveside verify {folder}' says more") from error


# An independent check


def _compare(args: argparse.Namespace, journal: Journal, job: Job) -> None:
    second = read(args.against)
    if not second:
        raise Complaint(f"{args.against}: nothing was said in this check yet; run it first")
    check = _sound(args.against, second)
    for folder, what, entries in (
        (args.job, "job", journal.entries),
        (args.against, "check", second),
    ):
        if not is_finished(entries):
            raise Complaint(f"{folder}: this {what} is not at its end; finish it first")
    tree = root(entry.line for entry in second)
    _refuse_spent(args.against, tree, journal.entries, second)
    try:
        first_visit = visit_of(journal.entries, "technician")
        second_visit = check_of(journal.entries, second)
    except ValueError as error:
        raise Complaint(f"{args.job}, {args.against}: {error}") from error
    if not same_person(second_visit.person, args.checker):
        raise Complaint(
            f"{args.against}: this check was made by {second_visit.person}, not {args.checker}; "
            "name who made it with --checker"
        )
    if faults := independence_faults(first_visit, second_visit):
        raise Complaint(f"{args.against}: not an independent check. {' '.join(faults)}")
    unit = unit_of(args.job, journal.entries)
    if unit is None:
        raise Complaint(f"{args.job}: its unit sheet is missing or was changed; nothing to compare")
    locked = locked_by(job.program), locked_by(check.program)
    points = compare(unit, journal.entries, second, locked)
    journal.append(clock(), compared(args.checker, tree, points))
    for point in points:
        print(f"{point.what}: {_told(point)}")
    counts = Counter(point.verdict for point in points)
    print("; ".join(f"{count} {verdict}" for verdict, count in counts.items()), end=".\n")


def _refuse_spent(
    folder: Path, tree: str, entries: Sequence[Entry], second: Sequence[Entry]
) -> None:
    """Refuse a check that can tell nothing new: one compared before, or begun too early.

    Where a check differs, the readings are to be taken anew by somebody after that was found.
    """
    before = comparison_with(entries, tree)
    if before is not None:
        raise Complaint(
            f"{folder}: this check was compared at line {before.seq} of the job, and counts once; "
            "to check again, let somebody who has seen neither take the readings anew"
        )
    for one in open_disagreements(entries):
        if not one.of and second[0].time < entries[one.seq - 1].time:
            raise Complaint(
                f"{folder}: this check was begun before line {one.seq} of the job, where {one.by} "
                f"does not agree with {one.what}, and clears nothing; {one.to_clear}"
            )


def _told(point: Point) -> str:
    """Both values, each with its line where the two are not the same."""
    if point.agrees:
        values = dict.fromkeys((point.first, point.second))
        return f"same, {' and '.join(map(str, values))}"
    sides = (
        (point.first, point.first_line, "in the job"),
        (point.second, point.second_line, "in the check"),
    )
    read = "; ".join(f"{value} {where}, line {line}" for value, line, where in sides if value)
    if point.agrees is None:
        return f"{read} only"
    missing = "".join(f"; not read {where}" for value, _, where in sides if not value)
    return f"DIFFERS, {read}{missing}".replace(", ; ", ", ")
