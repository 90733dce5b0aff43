"""What can go otherwise in a job: another answer, an error of the hand, a moment that is late.

A job with departures is an ordinary rehearsal: a departure only changes what is answered or done
at its step, the first time or the first few times that the job comes there.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    ContactStates,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.questions import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskLamps,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
)
from assistant.language.speaking import say_meaning
from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Ask, Reference
from assistant.procedure.program import Node
from assistant.procedure.values import FIELDS, Kind
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.rehearsal import Exchange, Rehearsal
from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.rig.technician import MOST_HOLDS
from assistant.session.effects import Begun, Done, Listen, Say
from assistant.trade.unit import Unit

__all__ = [
    "Arc",
    "Departure",
    "Erring",
    "Late",
    "Otherwise",
    "Played",
    "Visit",
    "departures_at",
    "play",
]

MOST_REPLIES = 900
"""Replies after which a job is left: it goes round in circles."""

Arc = tuple[str, str]
"""A way on: a step by its name in the whole program, and the outcome by which it is left."""


@dataclass(frozen=True, slots=True)
class Otherwise:
    """Another answer than the rig shows.

    Args:
        step: where.
        which: the how-manieth of the other answers.
        says: the answer in words, as it was when it was chosen.
        leads: the outcome to which it leads by its own word; empty where it is compared first.
        times: how often in a row.
    """

    step: str
    which: int
    says: str
    leads: str = ""
    times: int = 1

    def __str__(self) -> str:
        return f"“{self.says}” at {self.step}{_often(self.times)}"


@dataclass(frozen=True, slots=True)
class Erring:
    """An error of the hand, or of who reports it."""

    mistake: Mistake
    times: int = 1

    @property
    def step(self) -> str:
        """Where."""
        return self.mistake.step

    def __str__(self) -> str:
        return f"{self.mistake.kind} at {self.step}{_often(self.times)}"


@dataclass(frozen=True, slots=True)
class Late:
    """An answer that comes so much later; earlier, with a clock that was set back."""

    step: str
    seconds: float
    times: int = 1

    def __str__(self) -> str:
        how = f"{self.seconds:.0f} s late" if self.seconds > 0 else "clock set back"
        return f"{how} at {self.step}{_often(self.times)}"


Departure = Otherwise | Erring | Late


def _often(times: int) -> str:
    return "" if times == 1 else f", {times} times"


@dataclass(frozen=True, slots=True)
class Visit:
    """A question that was asked, and what the rig shows."""

    step: str
    question: Question
    truth: Meaning


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
    played: Played | None = None
    before: list[Exchange] = []

    def watch(exchange: Exchange) -> None:
        if played is None:
            before.append(exchange)
        else:
            _note(played, exchange)

    played = Played(Rehearsal(bench, watch))
    for exchange in before:
        _note(played, exchange)
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
    due = [one for one in left if left[one] > 0]
    _prepare(rehearsal, listen, due, left)
    truth = rehearsal.true_answer().meaning
    played.visits.append(Visit(listen.step, listen.question, truth))
    meaning = truth
    for one in due:
        if isinstance(one, Otherwise) and one.step == listen.step:
            others = list(
                _other_answers(
                    rehearsal.bench.unit, _node(rehearsal, listen), listen.question, truth
                )
            )
            left[one] -= 1
            meaning = others[one.which] if one.which < len(others) else truth
            rehearsal.technician.believe(meaning)
    rehearsal.give(meaning)


def _node(rehearsal: Rehearsal, listen: Listen) -> Node:
    return rehearsal.bench.program.nodes[listen.step]


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


# What can go otherwise at a question


def departures_at(visit: Visit, node: Node, unit: Unit | None) -> Iterator[Departure]:
    """Everything that can go otherwise where a question was asked.

    Args:
        visit: the question, and what the rig shows.
        node: its step.
        unit: the unit, if there is one.
    """
    others = _other_answers(unit, node, visit.question, visit.truth)
    for which, other in enumerate(others):
        yield Otherwise(visit.step, which, say_meaning(other), _leads(other))
    for act in node.step.acts:
        yield from _errors_in(act.kind, visit.step)
    match node.step.action:
        case Ask(when=str()):
            yield Late(visit.step, 900.0)
            yield Late(visit.step, -7200.0)


def _leads(meaning: Meaning) -> str:
    match meaning:
        case Choice(name) | Called(name=name):
            return name
        case Command(word):
            return word.value
        case Agreement(agrees=agrees):
            return "agreed" if agrees else "not-agreed"
        case Spelling():
            return "mismatch"
    return ""


def _errors_in(act: ActKind, step: str) -> Iterator[Erring]:
    match act:
        case ActKind.TURN_SHAFT:
            yield Erring(Mistake(MistakeKind.WRONG_WAY, step))
            yield Erring(Mistake(MistakeKind.TOO_FAST, step))
        case ActKind.CRANK | ActKind.CRANK_SLOWLY:
            yield Erring(Mistake(MistakeKind.MISCOUNT, step, 1.0))
        case ActKind.ENGAGE:
            yield Erring(Mistake(MistakeKind.ROD_LEFT_OUT, step))
    yield Erring(Mistake(MistakeKind.STEP_SKIPPED, step))


def _other_answers(
    unit: Unit | None, node: Node, question: Question, truth: Meaning
) -> Iterator[Meaning]:
    """Answers that the grammar takes and that are not what the rig shows."""
    match question:
        case AskYesNo():
            yes = truth == Command(Word.YES)
            yield Command(Word.NO if yes else Word.YES)
        case AskChoice(choices):
            yield from (Choice(name) for name in choices if Choice(name) != truth)
        case AskAgreement(role):
            yield Agreement(role, agrees=False)
        case AskRotation():
            if isinstance(truth, ShaftTurn):
                yield ShaftTurn(truth.rotation.opposite)
        case AskSpelling():
            yield Spelling("X9")
        case AskContacts():
            yield from _other_states(unit, truth)
        case AskLamps(lamps):
            yield from _other_lamps(tuple(name for name, _ in lamps), truth)
        case AskNumber():
            yield from _other_numbers(question, truth, _most(node, unit))


def _other_states(unit: Unit | None, truth: Meaning) -> Iterator[Meaning]:
    """One contact the other way, all of one rotor, and all."""
    if not isinstance(truth, ContactStates):
        return
    states = truth.mapping()
    rotors = [rotor.contacts for rotor in unit.rotors] if unit else []
    groups = [tuple(states)[:1], *(tuple(n for n in of if n in states) for of in rotors)]
    groups.append(tuple(states))
    for group in dict.fromkeys(groups):
        if group:
            yield ContactStates.of({n: s.other if n in group else s for n, s in states.items()})


def _other_lamps(lamps: tuple[str, ...], truth: Meaning) -> Iterator[Meaning]:
    lit = set(truth.names) if isinstance(truth, Lit) else set()
    others = [lit ^ {name} for name in lamps]
    for other in others:
        yield Lit(tuple(name for name in lamps if name in other))


def _most(node: Node, unit: Unit | None) -> float:
    """The largest whole number that is believed at a step; 0 where it is not known."""
    match node.step.action:
        case Ask(most=float(most)):
            return float(math.floor(most))
        case Ask(most=Reference(path=("unit", name))) if unit is not None:
            return float(math.floor(FIELDS[Kind.UNIT][name].read(unit).value))
    return 0.0


_OFF = (1.0, -1.0, 0.5, -0.5, 3.0, 10.0)
"""By how much another number is off; at least nothing is told."""


def _other_numbers(question: AskNumber, truth: Meaning, most: float) -> Iterator[Meaning]:
    number = truth.number if isinstance(truth, Called) else truth
    amount = number if isinstance(number, Quantity) else Quantity(1.0, question.unit)
    yield from (Choice(name) for name in question.instead if Choice(name) != truth)
    name = truth.name if isinstance(truth, Called) else None
    for called in question.called:
        if called != name:
            yield Called(called, amount)
    offs = (max(0.0, amount.value + off) for off in _OFF)
    values = dict.fromkeys((0.0, *offs, most))
    for value in values:
        if value != amount.value:
            other = replace(amount, value=value)
            first = name or next(iter(question.called), "")
            yield Called(first, other) if first else other
