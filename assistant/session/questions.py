"""What the technician is asked at a step, with the values of the job."""

from __future__ import annotations

from assistant.language.numbers import LARGEST
from assistant.language.questions import AskedByStep
from assistant.procedure import questions
from assistant.procedure.model import Ask, AskKind, Reference
from assistant.procedure.program import Node
from assistant.procedure.questions import AskedAbout
from assistant.session.names import Names

__all__ = ["most_of", "question_of", "subject_of"]

WITHOUT_HUNDREDS = 99.0


def question_of(node: Node, ask: Ask, names: Names) -> AskedByStep:
    """What the technician is asked at a step."""

    def contacts(of: Reference) -> tuple[int, ...]:
        return tuple(names.value(node, of).content)

    def lamps(of: Reference) -> tuple[tuple[str, str], ...]:
        return tuple((lamp.name, lamp.colour) for lamp in names.value(node, of).content.lamps)

    about = AskedAbout(contacts, lamps, _reach(most_of(node, ask, names)))
    return questions.question_of(ask, about)


def _reach(most: float | None) -> float:
    """One of two bounds, so that a grammar serves many questions."""
    return WITHOUT_HUNDREDS if most is not None and most < 100 else LARGEST


def most_of(node: Node, ask: Ask, names: Names) -> float | None:
    """The largest number that is believed."""
    if isinstance(ask.most, Reference):
        return float(names.value(node, ask.most).content.value)
    return ask.most


def subject_of(node: Node, ask: Ask, names: Names) -> str:
    """What a question is about, where the question itself does not say it."""
    if ask.kind is AskKind.ROTATION and ask.of is not None:
        return str(names.value(node, ask.of).content.rotor.name)
    return "" if ask.expect is None else str(ask.expect)
