"""The warnings and cautions that were spoken, and what was confirmed after each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assistant.journal.entry import Entry
from assistant.record.words import Field, fields_of, texts_of

__all__ = ["Caution", "cautions_of"]

_FIRST_WORDS = ("Warning.", "Caution.")


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning or caution, as it was spoken.

    Args:
        seq: number of the entry that spoke it.
        time: when.
        text: its words.
        asked: the question that followed.
        answer: the next thing that was confirmed, and at which step; None where nothing was.
        answered: number of the entry that confirmed it.
    """

    seq: int
    time: str
    text: str
    asked: str
    answer: Field | None
    answered: int | None


def cautions_of(entries: Sequence[Entry]) -> tuple[Caution, ...]:
    """Every warning and caution, in the order of the journal."""
    return tuple(reversed(list(_from_the_last(entries))))


def _from_the_last(entries: Sequence[Entry]) -> Iterator[Caution]:
    answer: Field | None = None
    answered: int | None = None
    for entry in reversed(entries):
        said = texts_of(entry.body.get("said"))
        for text in reversed(said):
            if text.startswith(_FIRST_WORDS):
                asked = "" if text == said[-1] else said[-1]
                yield Caution(entry.seq, entry.time, text, asked, answer, answered)
        if confirmed := fields_of(entry.body.get("confirmed")):
            answer, answered = confirmed[0], entry.seq
