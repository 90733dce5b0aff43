"""From what a step asks to a question of the language."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from assistant.language.numbers import LARGEST
from assistant.language.questions import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDone,
    AskedByStep,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
)
from assistant.procedure.model import Ask, AskKind, Reference

__all__ = ["AskedAbout", "question_of"]


@dataclass(frozen=True, slots=True)
class AskedAbout:
    """What steps ask about, as far as it is not theirs to say.

    Args:
        contacts: the contacts for which a reference stands.
        lamps: names and colours of the lamps of the unit for which one stands.
        most: the largest number that may be said.
    """

    contacts: Callable[[Reference], tuple[int, ...]]
    lamps: Callable[[Reference], tuple[tuple[str, str], ...]]
    most: float = LARGEST


def question_of(ask: Ask, about: AskedAbout) -> AskedByStep:
    """What is asked at a step."""
    match ask.kind:
        case AskKind.DONE | AskKind.YES_NO | AskKind.ROTATION | AskKind.MARK | AskKind.SPELLING:
            return _ALWAYS_THE_SAME[ask.kind]
        case AskKind.CONTACTS:
            assert ask.of is not None, "the reader demands 'of'"
            return AskContacts(about.contacts(ask.of))
        case AskKind.NUMBER:
            return AskNumber(ask.unit, ask.called, ask.instead, about.most)
        case AskKind.CHOICE:
            return AskChoice(ask.choices)
        case AskKind.LAMPS:
            assert ask.of is not None, "the reader demands 'of'"
            return AskLamps(about.lamps(ask.of))
        case AskKind.AGREEMENT:
            assert ask.by is not None, "the reader demands 'by'"
            return AskAgreement(ask.by)


_ALWAYS_THE_SAME: dict[AskKind, AskedByStep] = {
    AskKind.DONE: AskDone(),
    AskKind.YES_NO: AskYesNo(),
    AskKind.ROTATION: AskRotation(),
    AskKind.MARK: AskMark(),
    AskKind.SPELLING: AskSpelling(),
}
