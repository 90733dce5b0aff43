"""Which entries still count: an answer that was taken back counts no more, nor what followed it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from assistant.journal.entry import Entry

__all__ = ["standing", "taken_back"]


def standing(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """The entries whose answers still count, in their order."""
    gone = taken_back(entries)
    return tuple(entry for entry in entries if entry.seq not in gone)


def taken_back(entries: Sequence[Entry]) -> frozenset[int]:
    """Numbers of the entries that a later entry went back over.

    Going back to a step undoes its last answer and everything after it, up to the entry that went
    back, which itself begins anew. A step that asks nothing is done in the entry of the answer
    before it, and that answer stays.
    """
    gone: set[int] = set()
    gone_through: list[tuple[str, int]] = []  # steps, and the entry with which each begins
    for entry in entries:
        step = entry.body.get("went_back")
        if isinstance(step, str) and any(one == step for one, _ in gone_through):
            # In a loop a step is gone through more than once; going back is to the last time.
            while gone_through:
                one, begun = gone_through.pop()
                if one == step:
                    gone.update(range(begun, entry.seq))
                    break
        confirmed = tuple(_confirmed_in(entry))
        gone_through += ((step, entry.seq) for step in confirmed)
        gone_through += ((step, entry.seq + 1) for step in _done_in(entry) if step not in confirmed)
    return frozenset(gone)


def _confirmed_in(entry: Entry) -> Iterator[str]:
    confirmed = entry.body.get("confirmed")
    yield from confirmed if isinstance(confirmed, Mapping) else ()


def _done_in(entry: Entry) -> Iterator[str]:
    done = entry.body.get("done")
    for told in done if isinstance(done, list) else ():
        match told:
            case {"step": str(step)}:
                yield step
