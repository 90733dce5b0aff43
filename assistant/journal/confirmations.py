"""The confirmations of a job that a second person should hear: those that decide something.

That is every answer but "done", which only tells that work was done: a reading, a choice, a yes or
a no, a moment, an agreement; and a "done" by which something is proved.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.standing import taken_back

__all__ = ["ALWAYS_HEARD", "Confirmation", "confirmations"]

ALWAYS_HEARD = ("contacts", "rotation", "number", "called", "lit", "spelling", "choice")
"""What the JSON form of an answer begins with that every review has offered, the first ones too."""

_DONE = {"command": "done"}

_YES = {"command": "yes"}

_ANSWERING = ("yes", "no", "done", "mark")
"""The words that answer; the other fixed words are commands."""


@dataclass(frozen=True, slots=True)
class Confirmation:
    """One answer that counted, with what led to it.

    Args:
        seq: the line at which it was confirmed.
        step: the step that asked.
        asked: what was asked.
        replies: the lines of the exchange in which something was heard, in their order.
        answer: the JSON form of the answer.
    """

    seq: int
    step: str
    asked: str
    replies: tuple[Entry, ...]
    answer: Mapping[str, Any]

    @property
    def clips(self) -> tuple[tuple[str, str], ...]:
        """The recordings of the exchange, in their order, by file and SHA-256."""
        return tuple(entry.clip for entry in self.replies if entry.clip is not None)

    @property
    def unrecorded(self) -> str:
        """How it was answered where that was not recorded, "typed" or "pressed"; else empty.

        A "correct" to what was read back may be typed or pressed: the answer was heard before.
        """
        silent = [entry for entry in self.replies if entry.clip is None]
        if self.clips:
            silent = [entry for entry in silent if self._answers(entry)]
        return next((engine for entry in silent if (engine := _engine(entry))), "")

    def _answers(self, reply: Entry) -> bool:
        meant = reply.body.get("meant")
        if not isinstance(meant, Mapping) or meant.get("command", "yes") not in _ANSWERING:
            return False
        return not (reply.seq == self.seq and meant == _YES != self.answer)


def confirmations(
    entries: Sequence[Entry], proving: Collection[str] = ()
) -> Iterator[Confirmation]:
    """Every confirmation that decides something, in the order of the job.

    Answers that were taken back by going back are left out: nothing rests on them.

    Args:
        entries: of the job.
        proving: the steps whose answer proves something, by their names in the whole program.
    """
    gone = taken_back(entries)
    return (one for one in _confirmations(entries, proving) if one.seq not in gone)


def _confirmations(entries: Sequence[Entry], proving: Collection[str]) -> Iterator[Confirmation]:
    replies: list[Entry] = []
    asked, step, last = "", "", ""
    for entry in entries:
        if entry.body.get("step") != step:
            step, replies = str(entry.body.get("step", "")), []
        if entry.kind == "heard":
            replies.append(entry)
        for name, answer in _confirmed(entry).items():
            if isinstance(answer, Mapping) and (answer != _DONE or name in proving):
                yield Confirmation(entry.seq, name, asked, tuple(replies), answer)
            replies = []
        if entry.body.get("proved"):  # the session itself asked, at this step
            yield Confirmation(entry.seq, step, last, tuple(replies), _YES)
            replies = []
        said = entry.body.get("said")
        if isinstance(said, list) and said:
            last = str(said[-1])
            if entry.body.get("begun") or not asked:
                asked = last


def _confirmed(entry: Entry) -> Mapping[str, Any]:
    confirmed = entry.body.get("confirmed")
    return confirmed if isinstance(confirmed, Mapping) else {}


def _engine(entry: Entry) -> str:
    match entry.body.get("heard"):
        case {"engine": str(engine)}:
            return engine
    return ""
