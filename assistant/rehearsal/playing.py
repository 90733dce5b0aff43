"""A job played to its end, with or without something that goes otherwise than the rig shows."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import partial

from assistant.rehearsal.bench import Bench
from assistant.rehearsal.departures import Departure, Erring, Late, Otherwise, Visit, other_answers
from assistant.rehearsal.rehearsal import Exchange, Rehearsal
from assistant.rig.technician import MOST_HOLDS
from assistant.session.effects import Begun, Done, Listen, Say

__all__ = ["Arc", "Played", "play"]

MOST_REPLIES = 900
"""Replies after which a job is left: it goes round in circles."""

Arc = tuple[str, str]
"""A way on: a step by its name in the whole program, and the outcome by which it is left."""


@dataclass(slots=True)
class Played:
    """A job that was played.

    Args:
        rehearsal: the job as it ended.
        arcs: the ways on that were taken.
        begun: the steps that were done.
        said: everything that was spoken, in order.
        visits: every question of a step, in order.
    """

    rehearsal: Rehearsal
    arcs: set[Arc] = field(default_factory=set)
    begun: set[str] = field(default_factory=set)
    said: list[str] = field(default_factory=list)
    visits: list[Visit] = field(default_factory=list)
    _asked_before: dict[str, int] = field(default_factory=dict)

    def visits_before(self, step: str) -> list[Visit]:
        """The questions that were asked before a step was begun for the first time, and at it."""
        return self.visits[: self._asked_before.get(step, 0) + 1]

    def note_begun(self, step: str) -> None:
        """Remember that a step was begun."""
        self.begun.add(step)
        self._asked_before.setdefault(step, len(self.visits))

    @property
    def finished(self) -> bool:
        """Whether the job came to its end; else it was left on hold."""
        return self.rehearsal.session.finished

    @property
    def questions(self) -> int:
        """How many questions were answered."""
        return self.rehearsal.session.questions


def play(bench: Bench, departures: tuple[Departure, ...], until: str = "") -> Played:
    """Play a job to its end, or until it is held again and again.

    Args:
        bench: what is rehearsed.
        departures: what goes otherwise than the rig shows.
        until: a step at which to stop once it is begun; empty for none.
    """
    rehearsal = Rehearsal(bench)
    played = Played(rehearsal)
    _note(played, rehearsal.last)
    rehearsal.watch = partial(_note, played)
    _go_through(played, departures, until)
    return played


def _go_through(played: Played, departures: tuple[Departure, ...], until: str) -> None:
    left = Counter({departure: departure.times for departure in departures})
    rehearsal = played.rehearsal
    for _ in range(MOST_REPLIES):
        listen = rehearsal.listen
        over = listen is None or rehearsal.technician.holds > MOST_HOLDS
        if listen is None or over or (until and until in played.begun):
            return
        _reply(played, listen, left)


def _reply(played: Played, listen: Listen, left: Counter[Departure]) -> None:
    rehearsal = played.rehearsal
    if listen.aside or listen.read_back is not None or listen.question is None:
        rehearsal.answer()
        return
    bench = rehearsal.bench
    node = bench.program.nodes[listen.step]
    due = [one for one in left if left[one] > 0]
    _prepare(rehearsal, listen, due, left)
    truth = rehearsal.true_answer().meaning
    played.visits.append(Visit(listen.step, listen.question, truth))
    meaning = truth
    for one in due:
        if isinstance(one, Otherwise) and one.step == listen.step:
            others = list(other_answers(bench.unit, node, listen.question, truth))
            left[one] -= 1
            meaning = others[one.which] if one.which < len(others) else truth
            rehearsal.technician.believe(meaning)
    rehearsal.give(meaning)


def _prepare(
    rehearsal: Rehearsal, listen: Listen, due: list[Departure], left: Counter[Departure]
) -> None:
    """Have the technician be late, or make the error of what is to be done now."""
    steps = {listen.step, *rehearsal.technician.asked_at}
    for one in due:
        match one:
            case Late(step, seconds) if step == listen.step:
                left[one] -= 1
                rehearsal.be_late(seconds)
            case Erring(mistake) if mistake.step in steps:
                left[one] -= 1
                rehearsal.err(mistake)


def _note(played: Played, exchange: Exchange) -> None:
    for effect in exchange.effects:
        match effect:
            case Done(step, outcome):
                played.arcs.add((step, outcome))
            case Begun(step):
                played.note_begun(step)
            case Say(text):
                played.said.append(text)
