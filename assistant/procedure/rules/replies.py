"""What may be said to a step, as far as the writer decides about it."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.answers import grammar
from assistant.language.commands import command_phrases
from assistant.language.grammar import Grammar
from assistant.language.phrase_book import PhraseBook
from assistant.language.questions import ALL_CONTACTS, LAMPS_OF_A_VALVE
from assistant.language.speaking import say_choice, say_number
from assistant.procedure.model import Ask, AskKind
from assistant.procedure.questions import AskedAbout, question_of

__all__ = ["fixed_replies", "grammar_of", "replies_of"]

_ON_ANY_UNIT = AskedAbout(contacts=lambda _of: ALL_CONTACTS, lamps=lambda _of: LAMPS_OF_A_VALVE)
_DIGITS = range(10)


def replies_of(ask: Ask, book: PhraseBook) -> tuple[str, ...]:
    """The replies that the writer named, as they are said: choices, and words with a number."""
    return tuple(say_choice(name, book) for name in (*ask.choices, *ask.called, *ask.instead))


def fixed_replies(ask: Ask, book: PhraseBook) -> Iterator[str]:
    """What else may be said to a step for which the writer named replies."""
    yield from command_phrases(book)
    if ask.kind is AskKind.NUMBER and not ask.called:
        yield from (say_number(digit, None, book) for digit in _DIGITS)


def grammar_of(ask: Ask, book: PhraseBook) -> Grammar:
    """What may be said to a step on a valve with as many contacts as there can be, and two lamps.

    Which contacts and lamps a step is about is only known with a unit.
    """
    return grammar(question_of(ask, _ON_ANY_UNIT), book)
