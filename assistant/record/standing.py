"""Which entries still count: an answer that was taken back counts no more, nor what followed it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant.journal.entry import Entry
from assistant.record.words import mapping_of

__all__ = ["standing", "taken_back"]


def standing(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """The entries whose answers still count, in their order."""
    gone = taken_back(entries)
    return tuple(entry for entry in entries if entry.seq not in gone)


def taken_back(entries: Sequence[Entry]) -> frozenset[int]:
    """Numbers of the entries that a later entry went back over.

    Going back to a step undoes its last answer and everything after it, up to the entry that went
    back, which itself begins anew.
    """
    gone: set[int] = set()
    answered: dict[str, int] = {}
    for entry in entries:
        step = entry.body.get("went_back")
        if isinstance(step, str) and step in answered:
            gone.update(range(answered[step], entry.seq))
        answered |= dict.fromkeys(_answered_in(entry), entry.seq)
    return frozenset(gone)


def _answered_in(entry: Entry) -> Iterator[str]:
    yield from mapping_of(entry.body.get("confirmed"))
    done = entry.body.get("done")
    for told in done if isinstance(done, list) else ():
        step = mapping_of(told).get("step")
        if isinstance(step, str):
            yield step
