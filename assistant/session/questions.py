"""From the question of a step to the question of the language."""

from __future__ import annotations

from assistant.language.answers import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskLamps,
    AskNumber,
)
from assistant.language.numbers import LARGEST
from assistant.language.questions import AskedByStep
from assistant.procedure.model import Ask, AskKind, Reference
from assistant.procedure.program import Node
from assistant.procedure.questions import ALWAYS_THE_SAME
from assistant.session.names import Names

__all__ = ["most_of", "question_of", "subject_of"]

WITHOUT_HUNDREDS = 99.0


def question_of(node: Node, ask: Ask, names: Names) -> AskedByStep:
    """What the technician is asked at a step."""
    match ask.kind:
        case AskKind.CONTACTS:
            assert ask.of is not None, "the reader demands 'of'"
            return AskContacts(tuple(names.value(node, ask.of).content))
        case AskKind.NUMBER:
            return AskNumber(ask.unit, ask.called, ask.instead, _reach(most_of(node, ask, names)))
        case AskKind.CHOICE:
            return AskChoice(ask.choices)
        case AskKind.LAMPS:
            assert ask.of is not None, "the reader demands 'of'"
            lamps = names.value(node, ask.of).content.lamps
            return AskLamps(tuple((lamp.name, lamp.colour) for lamp in lamps))
        case AskKind.AGREEMENT:
            assert ask.by is not None, "the reader demands 'by'"
            return AskAgreement(ask.by)
        case kind:
            return ALWAYS_THE_SAME[kind]


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
