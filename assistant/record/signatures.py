"""Who signed, when, and with which meaning.

A signature shows the name, the date and time, and what it means (21 CFR 11.50). This program only
records that somebody said so: the site's own papers are signed by hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assistant.journal.entry import Entry
from assistant.record.recorded import Recorded
from assistant.record.words import in_words, texts_of

__all__ = ["Signature", "signatures_of"]

_SIGNED = "signed-"


@dataclass(frozen=True, slots=True)
class Signature:
    """A signature by voice.

    Args:
        seq: number of the entry.
        name: of the person, as it was spelled.
        meaning: what is signed for, "done".
        asked: the question that was answered, in full.
        time: when it was signed, RFC 3339.
    """

    seq: int
    name: str
    meaning: str
    asked: str
    time: str


def signatures_of(entries: Sequence[Entry], recorded: Sequence[Recorded]) -> Iterator[Signature]:
    """Each signature that counts, in the order of the journal."""
    yield from _verdicts(entries)
    asked = _questions(entries)
    times = {value.name: value for value in recorded if value.counts}
    for value in recorded:
        if value.counts and value.short.startswith(_SIGNED) and not value.short.endswith("-at"):
            at = times.get(f"{value.name}-at")
            yield Signature(
                seq=value.seq,
                name=value.value,
                meaning=value.short.removeprefix(_SIGNED).replace("-", " "),
                asked=asked.get(value.seq, ""),
                time=value.time if at is None else at.value,
            )


def _verdicts(entries: Sequence[Entry]) -> Iterator[Signature]:
    """Who heard the job or checked it independently, with the meaning of that."""
    for entry in entries:
        if entry.kind in ("reviewed", "compared"):
            yield Signature(
                seq=entry.seq,
                name=in_words(entry.body.get("by")),
                meaning=in_words(entry.body.get("meaning")),
                asked="",
                time=entry.time,
            )


def _questions(entries: Sequence[Entry]) -> dict[int, str]:
    """For each entry what was said last before it."""
    asked: dict[int, str] = {}
    last = ""
    for entry in entries:
        asked[entry.seq] = last
        last = next(reversed(texts_of(entry.body.get("said"))), last)
    return asked
