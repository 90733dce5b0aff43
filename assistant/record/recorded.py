"""The values that the procedure records, each with where and when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.proofs import Proofs
from assistant.journal.recorded import recorded_in
from assistant.journal.standing import taken_back
from assistant.record.words import clean, in_words

__all__ = ["Recorded", "last_named", "recorded_of"]


@dataclass(frozen=True, slots=True)
class Recorded:
    """A value that the procedure records.

    Args:
        seq: number of its entry.
        time: when, RFC 3339 in UTC.
        step: the step at which it was recorded.
        name: its name, the parts it was recorded in before it.
        value: in a reader's words.
        unit: its unit where it has one, else empty.
        rotor: the rotor that it is of, else empty.
        written: as the journal holds it.
        counts: False where a later entry went back over it.
        void: since where and why it proves nothing any more; empty where it does, or where it is
            no proof.
    """

    seq: int
    time: str
    step: str
    name: str
    value: str
    unit: str
    rotor: str
    written: Any
    counts: bool
    void: str

    @property
    def short(self) -> str:
        """The last part of its name."""
        return self.name.rpartition("/")[2]


def recorded_of(entries: Sequence[Entry], proofs: Proofs) -> Iterator[Recorded]:
    """Every recorded value, also those that no longer count."""
    gone = taken_back(entries)
    for entry in entries:
        for value in recorded_in(entry):
            void = proofs.of(entry.seq, value)
            yield Recorded(
                seq=entry.seq,
                time=entry.time,
                step=in_words(entry.body.get("step", "")),
                name=clean(value.name),
                value=in_words(value.written),
                unit=in_words(value.unit or ""),
                rotor=clean(value.rotor),
                written=value.written,
                counts=entry.seq not in gone,
                void="" if void is None else f"since line {void.line}: {void.why}",
            )


def last_named(recorded: Sequence[Recorded], short: str) -> Recorded | None:
    """The value recorded last under a name, whatever part recorded it, if it still counts."""
    named = (value for value in reversed(recorded) if value.counts and value.short == short)
    return next(named, None)
