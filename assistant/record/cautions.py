"""The warnings and cautions that were spoken, and what became of the question asked with each.

A caution is bound to the step at which the job stood once it was spoken: only an answer at that
very step says that whoever answers had heard it. A hold, a skipped step, going back, or the caution
spoken once more ends the wait for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from assistant.journal.entry import REVIEW_KINDS, Entry
from assistant.record.words import Field, clean, in_words, mapping_of, texts_of

__all__ = ["Caution", "cautions_of"]

_FIRST_WORDS = ("Warning.", "Caution.")

_NO = {"command": "no"}


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning or caution, as it was spoken.

    Args:
        seq: number of the entry that spoke it.
        time: when.
        text: its words.
        asked: the question that was asked with it; empty where none was.
        answer: what was confirmed at that question, and at which step; None where nothing was.
        answered: number of the entry that confirmed it.
        agreed: whether that answer was no "no" and no disagreement.
        asked_again: how often the question was asked once more before that.
        unconfirmed: why nothing was confirmed; empty where something was.
    """

    seq: int
    time: str
    text: str
    asked: str
    answer: Field | None = None
    answered: int | None = None
    agreed: bool = False
    asked_again: int = 0
    unconfirmed: str = ""


def cautions_of(entries: Sequence[Entry]) -> tuple[Caution, ...]:
    """Every warning and caution, in the order of the journal."""
    events = [entry for entry in entries if entry.kind not in REVIEW_KINDS]
    return tuple(caution for place in range(len(events)) for caution in _spoken(events, place))


def _spoken(events: Sequence[Entry], place: int) -> Iterator[Caution]:
    """The cautions of the entry at a place among the events."""
    entry = events[place]
    said = texts_of(entry.body.get("said"))
    for text in said:
        if text.startswith(_FIRST_WORDS):
            caution = Caution(entry.seq, entry.time, text, "" if text == said[-1] else said[-1])
            yield _followed(caution, entry, events[place + 1 :])


def _followed(caution: Caution, entry: Entry, after: Sequence[Entry]) -> Caution:
    """The caution with what became of its question in the entries after it."""
    if held := entry.body.get("held"):
        return replace(caution, unconfirmed=f"hold: {in_words(held)}")
    step = after[0].body.get("step") if after else None
    again = 0
    for later in after:
        confirmed = mapping_of(later.body.get("confirmed"))
        if isinstance(step, str) and step in confirmed:
            given = confirmed[step]
            return replace(
                caution,
                answer=Field(clean(step), in_words(given)),
                answered=later.seq,
                agreed=given != _NO and mapping_of(given).get("agrees") is not False,
                asked_again=again,
            )
        if why := _ended(later, caution.text):
            return replace(caution, asked_again=again, unconfirmed=why)
        again += _asks_again(later)
    return replace(caution, asked_again=again, unconfirmed="the journal ends before an answer")


def _ended(entry: Entry, text: str) -> str:
    """Why the question that a caution came with is open no more after an entry; "" where it is."""
    body, line = entry.body, entry.seq
    if held := body.get("held"):
        return f"hold at line {line}: {in_words(held)}"
    if skipped := mapping_of(body.get("skipped")):
        return f"skipped at line {line} by {in_words(skipped.get('by'))}"
    if body.get("went_back"):
        return f"went back at line {line}"
    if text in texts_of(body.get("said")):
        return f"spoken again at line {line}"
    return ""


def _asks_again(entry: Entry) -> bool:
    """Whether the reply was none: silence, not understood, "wrong", or a command."""
    meant = entry.body.get("meant")
    return meant is None or "command" in mapping_of(meant)
