"""Holds, deviations, notes, disagreements: what a reader must not miss, each with its line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.standing import taken_back
from assistant.journal.verdicts import comparison_with
from assistant.record.words import clean, in_words, mapping_of, texts_of
from assistant.trade.verification import same_person

__all__ = ["DEVIATION", "HOLD", "NOTE", "SKIPPED", "Remark", "remarks_of"]

DEVIATION = "Deviation"
HOLD = "Hold"
NOTE = "Note"
SKIPPED = "Step skipped"

_JUDGING = ("verdict", "compared")


@dataclass(frozen=True, slots=True)
class Remark:
    """A hold, a deviation, or another thing that a reader must not miss."""

    seq: int
    time: str
    what: str
    why: str


def remarks_of(entries: Sequence[Entry]) -> Iterator[Remark]:
    """Every remark, in the order of the journal, also of what was gone back over."""
    for entry in entries:
        for what, why in (*_remarkable(entry), *_disagreement(entry, entries)):
            yield Remark(entry.seq, entry.time, what, why)


def _remarkable(entry: Entry) -> Iterator[tuple[str, str]]:
    """What a reader must not miss, and why it was."""
    body = entry.body
    if entry.kind == "returned":
        yield "Interrupted and continued", " ".join(texts_of(body.get("said")))
    for text in texts_of(body.get("deviations")):
        yield DEVIATION, text
    for fact in texts_of(body.get("proved")):
        yield "Proved again before going on", fact.replace("-", " ")
    if skipped := mapping_of(body.get("skipped")):
        yield SKIPPED, f"{in_words(skipped.get('step'))}, by {in_words(skipped.get('by'))}"
    if body.get("went_back"):
        yield "Went back: answers from this step on no longer count", in_words(body["went_back"])
    if closed := mapping_of(body.get("hold_closed")):
        yield f"Hold closed by {in_words(closed.get('by'))}", in_words(closed.get("reason"))
    yield from _stops(body)


def _stops(body: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Holds, notes, and readings that gave no direction."""
    if body.get("held"):
        yield HOLD, in_words(body["held"])
    elif body.get("meant") == {"command": "hold"}:
        yield "Hold asked for", in_words(body.get("step", ""))
    if note := body.get("note"):
        yield NOTE if note is True else "Reason given", in_words(_words_kept(body, note))
    advice = mapping_of(body.get("advice"))
    if advice.get("verdict") == "contradiction":
        what = f"Readings of the rotor {in_words(advice.get('rotor'))} disagreed: no direction"
        yield what, " ".join(texts_of(advice.get("reasons")))


def _words_kept(body: Mapping[str, Any], note: Any) -> Any:
    """The clip of a note or a reason, or its words where they were typed.

    A reason counts once it was agreed on, and is named by the entry that agrees; else it is what
    the entry itself heard.
    """
    kept = {**mapping_of(body.get("heard")), **body} if note is True else mapping_of(note)
    return mapping_of(kept.get("clip")).get("file") or kept.get("text", "")


def _disagreement(entry: Entry, entries: Sequence[Entry]) -> Iterator[tuple[str, str]]:
    """What a second person does not agree with, and whether it was cleared since."""
    if entry.kind not in _JUDGING or entry.body.get("agrees") is True:
        return
    of, by = _judged(entry), in_words(entry.body.get("by"))
    where = f"line {of}, at {in_words(entry.body.get('step'))}" if of else "the independent check"
    yield f"{by} does not agree", clean(f"{where}; {_state(entry, entries)}")


def _state(entry: Entry, entries: Sequence[Entry]) -> str:
    """Whether a disagreement is open, or by what it was cleared."""
    of, by = _judged(entry), in_words(entry.body.get("by"))
    if of in taken_back(entries):
        return "that line was taken back"
    # An independent check is cleared by a new one; a line by whoever disagreed, and nobody else.
    cleared = [
        later.seq
        for later in entries
        if later.seq > entry.seq and _judged(later) == of and later.body.get("agrees") is True
        if (
            same_person(in_words(later.body.get("by")), by)
            if of
            else comparison_with(entries, later.body.get("with_root")) is later
        )
    ]
    return f"cleared at line {cleared[-1]}" if cleared else "open"


def _judged(entry: Entry) -> int | None:
    """The line that an entry judges, 0 for an independent check; None where it judges nothing."""
    of = 0 if entry.kind == "compared" else entry.body.get("of")
    return of if entry.kind in _JUDGING and isinstance(of, int) else None
