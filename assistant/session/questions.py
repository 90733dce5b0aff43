"""From the question of a step to the question of the language, and which answers are read back."""

from __future__ import annotations

from assistant.language.answers import (
    AskChoice,
    AskContacts,
    AskDone,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
)
from assistant.procedure.model import Ask, AskKind
from assistant.procedure.program import Node
from assistant.session.names import Names

__all__ = ["READ_BACK", "question_of", "subject_of"]

READ_BACK = frozenset({AskKind.CONTACTS, AskKind.ROTATION, AskKind.NUMBER, AskKind.SPELLING})
"""Answers that decide something and are easily misheard: they count only after a confirmation.

Source: three-part exchange, DOE-STD-1031-92 §4.1.2.3 to 4.1.2.5.
"""


def question_of(node: Node, ask: Ask, names: Names) -> Question:
    """What the technician is asked at a step."""
    match ask.kind:
        case AskKind.DONE:
            return AskDone()
        case AskKind.YES_NO:
            return AskYesNo()
        case AskKind.CONTACTS:
            assert ask.of is not None, "the reader demands 'of'"
            return AskContacts(tuple(names.value(node, ask.of).content))
        case AskKind.ROTATION:
            return AskRotation()
        case AskKind.NUMBER:
            return AskNumber(ask.unit)
        case AskKind.CHOICE:
            return AskChoice(ask.choices)
        case AskKind.MARK:
            return AskMark()
        case AskKind.SPELLING:
            return AskSpelling()


def subject_of(node: Node, ask: Ask, names: Names) -> str:
    """What a question is about, where the question itself does not say it."""
    if ask.kind is AskKind.ROTATION and ask.of is not None:
        return str(names.value(node, ask.of).content.rotor.name)
    return "" if ask.expect is None else str(ask.expect)
