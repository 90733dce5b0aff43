"""What can be said now, in spoken words."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from assistant.language.answers import Question, confirming, grammar
from assistant.language.grammar import Grammar
from assistant.language.phrase_book import PhraseBook

__all__ = ["MOST_EXAMPLES", "examples", "help_for", "help_for_confirming"]

MOST_EXAMPLES = 4
"""More than four things in a row are not kept in mind; common practice, no source."""


def help_for(question: Question, book: PhraseBook) -> str:
    """What can be said to a question."""
    return _help(grammar(question, book), book)


def help_for_confirming(question: Question, book: PhraseBook) -> str:
    """What can be said when the answer to a question is read back."""
    return _help(confirming(question, book), book)


def examples(of: Grammar) -> tuple[str, ...]:
    """At most `MOST_EXAMPLES` sentences of a grammar, at least one of them a command."""
    *answers, commands = of.rules
    first = itertools.islice(_in_turn(tuple(rule.examples for rule in answers)), MOST_EXAMPLES - 1)
    return (*first, *commands.examples)[:MOST_EXAMPLES]


def _in_turn(of_rules: tuple[tuple[str, ...], ...]) -> Iterator[str]:
    """All examples of a first rule of two, and one of each further rule."""
    for at, sentences in enumerate(of_rules):
        yield from sentences if at == 0 else sentences[:1]


def _help(of: Grammar, book: PhraseBook) -> str:
    listed = book.templates["help-or"].join(examples(of))
    return book.templates["help"].format(examples=listed)
