"""A log played again, through the same session, on a program that may have changed meanwhile.

A reply is given where the question is the one that it answered. A step that is new is answered as
a careful technician would, one that changed as well, and what answers a step that is no longer
asked is left out; all of it is told. The rig is built anew and worked again, so that it stands as
the replies say.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from assistant.rehearsal.bench import Bench
from assistant.rehearsal.rehearsal import Did, Entry, Mishap, Rehearsal, Said, Waited
from assistant.rig.technician import TechnicianLost

__all__ = ["Followed", "follow"]

MOST_NEW = 200
"""Questions that are answered in the writer's stead at most: a loop of new steps ends here."""


@dataclass(slots=True)
class Followed:
    """A log that was played again.

    Args:
        rehearsal: the job, where the log ends.
        new: steps that were answered in the writer's stead, for the log says nothing of them.
        changed: steps whose question is another; answered in the writer's stead likewise.
        left_out: steps of the log that are not asked any more.
    """

    rehearsal: Rehearsal
    new: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)

    def notes(self) -> Iterator[str]:
        """What came out otherwise than it was said, in words."""
        for steps, what in (
            (self.new, "asked for the first time, and answered as the rig shows"),
            (self.changed, "asked otherwise than before, and answered as the rig shows"),
            (self.left_out, "not asked any more; what you answered there is left out"),
        ):
            if steps:
                yield f"{', '.join(dict.fromkeys(steps))}: {what}"


def follow(bench: Bench, log: Iterable[Entry], place: str = "") -> Followed:
    """Play a log again.

    Args:
        bench: what is rehearsed now.
        log: what was said and done before.
        place: the step that was open and is not answered yet; empty where there is none.
    """
    followed = Followed(Rehearsal(bench))
    waiting = deque(log)
    while waiting and followed.rehearsal.listen is not None:
        if not _next(followed, waiting, place):
            break
    return followed


def _next(followed: Followed, waiting: deque[Entry], place: str) -> bool:
    """Give the next reply, or what takes its place; whether there is any use in going on."""
    asked = followed.rehearsal.asked
    assert asked is not None, "a job that is over is not followed"
    said = next((entry for entry in waiting if isinstance(entry, Said | Waited)), None)
    if said is None or said.asked == asked:
        _give(followed.rehearsal, waiting)
        return True
    step, steps = asked[0], [e.asked[0] for e in waiting if isinstance(e, Said | Waited)]
    if step not in steps and step == place:
        followed.left_out += steps
        return False
    if step not in steps:
        followed.new.append(step)
        followed.rehearsal.answer()
        return len(followed.new) <= MOST_NEW
    if steps[0] == step:
        followed.changed.append(step)
        _drop(waiting, step)
        _answer_at(followed.rehearsal, step)
        return True
    followed.left_out.append(steps[0])
    _drop(waiting, steps[0])
    return True


def _give(rehearsal: Rehearsal, waiting: deque[Entry]) -> None:
    """Do what comes before the next reply, and give it."""
    while waiting:
        entry = waiting.popleft()
        match entry:
            case Said(_, None):
                rehearsal.silence()
            case Said(_, recognition) if recognition is not None:
                rehearsal.hear(recognition)
            case Waited(_, seconds):
                rehearsal.come_back(seconds)
            case Did() | Mishap():
                _work(rehearsal, entry)
                continue
        return


def _work(rehearsal: Rehearsal, entry: Did | Mishap) -> None:
    try:
        match entry:
            case Mishap(mistake):
                rehearsal.err(mistake)
            case Did(None):
                rehearsal.work()
            case Did(handling) if handling is not None:
                rehearsal.handle(handling)
    except TechnicianLost:
        return  # the act is not to be done on this rig any more: nothing was lost by that


def _drop(waiting: deque[Entry], step: str) -> None:
    """Leave out everything up to the last of the replies in a row at a step."""
    while waiting:
        head = waiting[0]
        if isinstance(head, Said | Waited) and head.asked[0] != step:
            return
        waiting.popleft()


def _answer_at(rehearsal: Rehearsal, step: str) -> None:
    """Answer as the rig shows until the job goes on from a step."""
    for _ in range(MOST_NEW):
        if rehearsal.listen is None or rehearsal.listen.step != step:
            return
        rehearsal.answer()
