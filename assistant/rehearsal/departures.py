"""What can go otherwise in a job: another answer, an error of the hand, a moment that is late.

A job with departures is an ordinary rehearsal: a departure only changes what is answered or done
at its step, the first time or the first few times that the job comes there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from assistant.language.english import english
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
from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.trade.unit import Unit

__all__ = [
    "Departure",
    "Erring",
    "Late",
    "Otherwise",
    "Visit",
    "departures_at",
    "other_answers",
]


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


def departures_at(visit: Visit, node: Node, unit: Unit | None) -> Iterator[Departure]:
    """Everything that can go otherwise where a question was asked.

    Args:
        visit: the question, and what the rig shows.
        node: its step.
        unit: the unit, if there is one.
    """
    others = other_answers(unit, node, visit.question, visit.truth)
    for which, other in enumerate(others):
        yield Otherwise(visit.step, which, say_meaning(other), _leads(other))
    for act in node.step.acts:
        yield from _errors_in(act.kind, visit.step)
    match node.step.action:
        case Ask(when=str()):
            yield Late(visit.step, 900.0)
            yield Late(visit.step, -7200.0)
            yield Late(visit.step, 300.0)


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


def other_answers(
    unit: Unit | None, node: Node, question: Question, truth: Meaning
) -> Iterator[Meaning]:
    """Answers that the grammar takes and that are not what the rig shows, in a fixed order.

    Args:
        unit: the unit, if there is one.
        node: the step.
        question: what it asks.
        truth: what the rig shows.
    """
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
            yield from _other_numbers(question, truth, _most(node, unit), _across(node))


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


ACROSS = 40
"""In so many parts the range is gone through that is believed, for limits that lie in it."""


def _across(node: Node) -> Iterator[float]:
    """Numbers across the range, as the unit has them: whole, in quarters, or in hundredths."""
    match node.step.action:
        case Ask(unit=unit, least=float(least), most=float(most)):
            width = most - least
            words = english().unit(unit or "")
            parts = 1 if width >= ACROSS or words is None else _PARTS[words.parts]
            for index in range(ACROSS + 1):
                value = round((least + width * index / ACROSS) * parts) / parts
                if least <= value <= most:
                    yield value


_PARTS: Mapping[str, int] = {"none": 1, "fractions": 4, "decimals": 100}
"""How many parts of one can be told, by how they are told."""


def _other_numbers(
    question: AskNumber, truth: Meaning, most: float, across: Iterable[float]
) -> Iterator[Meaning]:
    number = truth.number if isinstance(truth, Called) else truth
    amount = number if isinstance(number, Quantity) else Quantity(1.0, question.unit)
    yield from (Choice(name) for name in question.instead if Choice(name) != truth)
    name = truth.name if isinstance(truth, Called) else None
    for called in question.called:
        if called != name:
            yield Called(called, amount)
    offs = (max(0.0, amount.value + off) for off in _OFF)
    values = dict.fromkeys((0.0, *offs, most, *across))
    for value in values:
        if value != amount.value:
            other = replace(amount, value=value)
            first = name or next(iter(question.called), "")
            yield Called(first, other) if first else other
