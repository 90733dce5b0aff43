"""What a careful technician answers: what the rig shows, and where it shows nothing, a plain guess.

Most of what a procedure asks is seen on the rig: contacts, shafts, lamps, turns, the plate. Whether
everybody is clear is not, and a procedure may ask for what no rig has. Then the first choice, yes,
done or a number that is believed is taken, and it is said that it was only taken.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    Meaning,
    Quantity,
    Spelling,
    Word,
)
from assistant.language.questions import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDigits,
    AskDone,
    AskEither,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskWhether,
    AskYesNo,
    Question,
)
from assistant.procedure.model import Ask, Hold
from assistant.procedure.program import Node, Program
from assistant.rig.technician import Technician, TechnicianLost
from assistant.session.effects import Listen

__all__ = ["Answer", "true_answer"]

_SEEN_WORDS = frozenset(
    ("locked", "free", "out", "pressed", "torque", "position", "open", "closed", "not-at-all")
)
"""Choices that a rig tells."""


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer in the writer's stead.

    Args:
        meaning: what is answered.
        seen: whether the rig shows it; else it is only taken.
    """

    meaning: Meaning
    seen: bool


def true_answer(technician: Technician, listen: Listen, program: Program) -> Answer:
    """Do what was asked for, and answer the open question.

    Args:
        technician: who stands at the rig, and was told of the question.
        listen: the question.
        program: the procedure that asks it.
    """
    try:
        meaning = technician.answer()
    except TechnicianLost:
        meaning = _taken(listen.question, program.nodes[listen.step])
    else:
        if _is_seen(listen, meaning):
            return Answer(meaning, seen=True)
    if not listen.aside and listen.read_back is None:
        meaning = _without_hold(meaning, listen, program)
        technician.believe(meaning)
    return Answer(meaning, seen=False)


def _without_hold(meaning: Meaning, listen: Listen, program: Program) -> Meaning:
    """What is only taken does not hold the job, where another answer leads on."""
    match listen.question:
        case AskYesNo():
            others: list[Meaning] = [Command(Word.YES), Command(Word.NO)]
        case AskChoice(choices):
            others = [Choice(name) for name in choices]
        case _:
            return meaning
    targets = program.nodes[listen.step].targets
    for other in (meaning, *others):
        target = targets.get(
            other.word if isinstance(other, Command) else getattr(other, "name", "")
        )
        if target is None or not isinstance(program.nodes[target].step.action, Hold):
            return other
    return meaning


def _is_seen(listen: Listen, meaning: Meaning) -> bool:
    match listen.question, meaning:
        case _ if listen.aside or listen.read_back is not None:
            return False
        case AskChoice(), Choice(name):
            return name in _SEEN_WORDS
        case AskContacts() | AskRotation() | AskNumber() | AskLamps() | AskSpelling(), _:
            return True
        case AskWhether() | AskDigits(), _:
            return True
    return False


def _taken(question: Question | None, node: Node) -> Meaning:
    match question:
        case None:
            return Command(Word.CARRY_ON)
        case AskChoice(choices):
            return Choice(choices[0])
        case AskAgreement(role):
            return Agreement(role, agrees=True)
        case AskSpelling():
            return Spelling("A1")
        case (AskNumber() as number) | AskDigits(number):
            amount = Quantity(_believed(node), number.unit)
            return Called(number.called[0], amount) if number.called else amount
        case AskDone():
            return Command(Word.DONE)
        case AskMark():
            return Command(Word.MARK)
        case AskYesNo() | AskEither() | AskWhether():
            return Command(Word.YES)
        case AskContacts() | AskRotation() | AskLamps():
            raise AssertionError("asked of a unit, and so there is a rig, which tells")


def _believed(node: Node) -> float:
    """A number in the range that is believed, where the step bounds it."""
    match node.step.action:
        case Ask(least=least, most=float(most)):
            middle = ((least or 0.0) + most) / 2
            whole = float(round(middle))
            return whole if (least or 0.0) <= whole <= most else round(middle, 2)
        case Ask(least=float(least)):
            return least
    return 1.0
