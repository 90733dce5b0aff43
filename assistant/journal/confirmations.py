"""The confirmations of a job that a second person should hear: those that decide something."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.standing import taken_back

__all__ = ["Confirmation", "confirmations"]

_DECIDING = ("contacts", "rotation", "number", "called", "lit", "spelling", "choice")
"""What the JSON form of an answer begins with that decides something; "yes" and "done" do not."""


@dataclass(frozen=True, slots=True)
class Confirmation:
    """One answer that counted, with what led to it.

    Args:
        seq: the line at which it was confirmed.
        step: the step that asked.
        asked: what was asked.
        clips: the recordings of the exchange, in their order, by file and SHA-256.
        answer: the JSON form of the answer.
    """

    seq: int
    step: str
    asked: str
    clips: tuple[tuple[str, str], ...]
    answer: Mapping[str, Any]


def confirmations(entries: Sequence[Entry]) -> Iterator[Confirmation]:
    """Every confirmation that decides something, in the order of the job.

    Answers that were taken back by going back are left out: nothing rests on them.
    """
    gone = taken_back(entries)
    return (one for one in _confirmations(entries) if one.seq not in gone)


def _confirmations(entries: Sequence[Entry]) -> Iterator[Confirmation]:
    clips: list[tuple[str, str]] = []
    asked, step = "", ""
    for entry in entries:
        if entry.body.get("step") != step:
            step, clips = str(entry.body.get("step", "")), []
        if entry.clip is not None:
            clips.append(entry.clip)
        for name, answer in _confirmed(entry).items():
            if isinstance(answer, Mapping) and any(key in answer for key in _DECIDING):
                yield Confirmation(entry.seq, name, asked, tuple(clips), answer)
            clips = []
        said = entry.body.get("said")
        if isinstance(said, list) and said and (entry.body.get("begun") or not asked):
            asked = str(said[-1])


def _confirmed(entry: Entry) -> Mapping[str, Any]:
    confirmed = entry.body.get("confirmed")
    return confirmed if isinstance(confirmed, Mapping) else {}
