"""Ask only what is doubtful, where one of two answers was said and it is not known which.

Contacts and lamps on which both readings agree are kept, and only the others are asked for. Two
short answers are offered both. Nothing is guessed: what is kept is read back with the rest, and
where two readings have nothing to be told apart by in one breath, the question is asked again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assistant.language.either import can_be_told_apart, say_either
from assistant.language.meaning import Agreement, ContactStates, Lit
from assistant.language.phrase_book import PhraseBook
from assistant.language.questions import (
    AskContacts,
    AskedByStep,
    AskEither,
    AskLamps,
    Question,
)
from assistant.language.recognition import Unclear
from assistant.session import wording
from assistant.session.partial_answer import Part, parts_of
from assistant.trade.contacts import ContactState

__all__ = ["Doubt", "doubt_in"]


@dataclass(frozen=True, slots=True)
class Doubt:
    """What is doubtful.

    Args:
        kept: the parts on which both readings agree.
        parts: the parts on which they do not; empty where the answer has no parts.
        question: what tells the two apart; None where nothing is left to be told apart.
        prompt: how it is asked.
    """

    kept: Mapping[Part, ContactState | bool]
    parts: tuple[Part, ...]
    question: Question | None
    prompt: str


def doubt_in(unclear: Unclear, asked: AskedByStep, book: PhraseBook) -> Doubt | None:
    """What is doubtful between two readings; None where it has to be asked again in full.

    Args:
        unclear: the two readings.
        asked: the question, as it was open when they were heard.
        book: the phrase book.
    """
    match unclear.best, unclear.other:
        case ContactStates() | Lit() as best, ContactStates() | Lit() as other if type(
            best
        ) is type(other):
            return _of_parts(parts_of(best, asked), parts_of(other, asked), asked)
        case Agreement(role), Agreement(role=same) if role == same:
            return Doubt({}, (), asked, wording.say_verdict(role))
        case best, other if can_be_told_apart(best, other):
            either = AskEither(asked, best, other)
            return Doubt({}, (), either, wording.which(*say_either(either, book)))
    return None


def _of_parts(
    best: Mapping[Part, ContactState | bool],
    other: Mapping[Part, ContactState | bool],
    asked: AskedByStep,
) -> Doubt | None:
    kept = {part: state for part, state in best.items() if other.get(part) is state}
    odd = tuple(part for part, state in best.items() if other.get(part, state) is not state)
    if not kept and not odd:
        return None
    match asked:
        case AskContacts():
            numbers = tuple(part for part in odd if isinstance(part, int))
            question = AskContacts(numbers) if numbers else None
            return Doubt(kept, odd, question, wording.which_state(numbers))
        case AskLamps(lamps):
            left = tuple(lamp for lamp in lamps if lamp[0] in odd)
            names = tuple(name for name, _ in left)
            return Doubt(kept, odd, AskLamps(left), wording.which_lit(names))
    return None
