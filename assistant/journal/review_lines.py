"""Judge the lines of a second person: they are no events, so no replay looks at them.

A verdict is on a confirmation that stands before it, by somebody who is named and is not the
technician. A signature counts what that person has judged. An independent check tells what it
compared. Whether that person was there, nothing here can tell: whoever can write the file can write
such lines too, and only a root that was kept after them vouches for them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from assistant.journal.chain import KEEP, Level, Problem
from assistant.journal.confirmations import ALWAYS_HEARD, confirmations
from assistant.journal.entry import (
    FORMAT_1,
    FORMAT_2,
    FORMAT_3,
    FORMAT_4,
    REVIEW_KINDS,
    Entry,
    is_finished,
)
from assistant.journal.verdicts import HEARD_MEANING, comparison_with, counts_of, verdicts_by
from assistant.trade.verification import same_person

__all__ = ["check_reviews"]

_COUNTED = ("agreed", "disagreed", "heard", "read")
"""What a signature counts; the first ones counted the first two."""

_ROOT = re.compile(r"[0-9a-f]{64}", re.ASCII)

_REVIEW_AGAIN = "review the job again, which says what was heard and what was read"

_ONCE = "a check counts once: it clears nothing; to check again, take the readings anew"

_REPEATING = frozenset({FORMAT_4, FORMAT_3, FORMAT_2, FORMAT_1})
"""Formats of the programs that compared a job with the same check again when asked to."""


def check_reviews(entries: Sequence[Entry]) -> list[Problem]:
    """What is wrong with the verdicts, signatures of reviews and comparisons of a sound chain.

    The first reviews called heard what was read, and compared the same check again: that is a
    notice.
    """
    judging = [entry for entry in entries if entry.kind in REVIEW_KINDS]
    problems = [
        Problem(entry.seq, what, KEEP)
        for entry in judging
        for what in (*_by_whom(entry, entries[0]), *_CHECKS[entry.kind](entry, entries))
    ]
    return [*problems, *_nothing_to_hear(judging, entries), *_compared_again(judging, entries)]


def _nothing_to_hear(judging: Sequence[Entry], entries: Sequence[Entry]) -> Iterator[Problem]:
    heard = {e.body.get("of"): e.seq for e in judging if e.body.get("meaning") == HEARD_MEANING}
    if not heard:
        return
    for one in confirmations(entries):
        if one.unrecorded and one.seq in heard:
            what = (
                f"it says that the recording of line {one.seq} was heard, and there is none: that "
                f"was {one.unrecorded}, as others may have been"
            )
            yield Problem(heard[one.seq], what, _REVIEW_AGAIN, Level.NOTICE)
            return


def _compared_again(judging: Sequence[Entry], entries: Sequence[Entry]) -> Iterator[Problem]:
    """No newer program compares a job with the same check twice."""
    older = entries[0].body.get("format") in _REPEATING
    for entry in judging:
        if entry.kind != "compared":
            continue
        first = comparison_with(judging, entry.body.get("with_root"))
        if first is None or first is entry:
            continue
        what = f"it compares again with the check of line {first.seq}"
        if older:
            yield Problem(entry.seq, what, _ONCE, Level.NOTICE)
        else:
            yield Problem(entry.seq, what, KEEP)


def _by_whom(entry: Entry, first: Entry) -> Iterator[str]:
    by = entry.body.get("by")
    if not isinstance(by, str) or not any(map(str.isalnum, by)):
        yield f"the {entry.kind} line names nobody who judged"
        return
    match first.body.get("job"):
        case {"papers": {"technician": str(technician)}} if same_person(technician, by):
            yield f"the {entry.kind} line is by {by}, the technician of the job: nobody else judged"


def _of_verdict(entry: Entry, entries: Sequence[Entry]) -> Iterator[str]:
    of, step = entry.body.get("of"), entry.body.get("step")
    judged = entries[of - 1] if type(of) is int and 1 <= of < entry.seq else None
    if judged is None or step not in _confirmed_steps(judged):
        yield f"it judges line {of} at '{step}', and no confirmation stands there before it"
    if not isinstance(entry.body.get("agrees"), bool):
        yield "it judges, and does not say whether it agrees"


def _confirmed_steps(entry: Entry) -> tuple[Any, ...]:
    confirmed = entry.body.get("confirmed")
    steps = tuple(confirmed) if isinstance(confirmed, Mapping) else ()
    return (*steps, entry.body.get("step")) if entry.body.get("proved") else steps


def _of_signature(entry: Entry, entries: Sequence[Entry]) -> Iterator[str]:
    before = entries[: entry.seq - 1]
    if not is_finished(before):
        yield "a review is signed of a job that is not at its end"
        return
    by = str(entry.body.get("by", ""))
    verdicts = verdicts_by(before, by)
    counts = counts_of(verdicts.values())
    right: tuple[int, ...] = (counts.agreed, counts.disagreed, counts.heard, counts.read)
    if "heard" not in entry.body and "read" not in entry.body:
        right = _as_first_counted(before, by)
    told = tuple(entry.body.get(name) for name in _COUNTED[: len(right)])
    if told != right:
        yield (
            f"the review is signed for {_in_words(told)}, and the verdicts before it are "
            f"{_in_words(right)}"
        )
    missed = [
        one.seq
        for one in confirmations(before)
        if one.seq not in verdicts and any(form in one.answer for form in ALWAYS_HEARD)
    ]
    if missed:
        yield f"the review is signed, and {by} has not judged line {missed[0]}"


def _as_first_counted(entries: Sequence[Entry], by: str) -> tuple[int, int]:
    """As reviews counted that did not tell what was heard and what was read.

    Lines that were taken back counted too, and anybody cleared a disagreement.
    """
    verdicts = [entry for entry in entries if entry.kind == "verdict"]
    own = {
        entry.body.get("of"): entry.body.get("agrees") is True
        for entry in verdicts
        if same_person(str(entry.body.get("by", "")), by)
    }
    last = {entry.body.get("of"): entry.body.get("agrees") is True for entry in verdicts}
    return sum(own.values()), list(last.values()).count(False)


def _in_words(counts: Sequence[Any]) -> str:
    return ", ".join(f"{count} {name}" for count, name in zip(counts, _COUNTED, strict=False))


def _of_comparison(entry: Entry, entries: Sequence[Entry]) -> Iterator[str]:
    if not is_finished(entries[: entry.seq - 1]):
        yield "a check is compared with a job that is not at its end"
    if not _ROOT.fullmatch(str(entry.body.get("with_root", ""))):
        yield "it compares, and does not name the root of the check's journal"
    points = entry.body.get("points")
    verdicts = [
        point.get("agrees") if isinstance(point, Mapping) else False
        for point in (points if isinstance(points, list) else ())
    ]
    if entry.body.get("agrees") is not (bool(verdicts) and False not in verdicts):
        yield "what it says of all points does not follow from them"


_CHECKS: Mapping[str, Callable[[Entry, Sequence[Entry]], Iterator[str]]] = {
    "verdict": _of_verdict,
    "reviewed": _of_signature,
    "compared": _of_comparison,
}
