"""A wake word: what is said counts only after it, where other people talk beside the microphone.

"Hold" needs none: a hold that nobody meant costs a moment, one that is not heard can cost a hand.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator
from dataclasses import replace

from assistant.language.answers import (
    AskAgreement,
    AskContacts,
    AskDone,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    confirming,
    grammar,
    hold_only,
)
from assistant.language.grammar import Grammar, Sequence, Term
from assistant.language.phrase_book import PhraseBook
from assistant.language.questions import ALL_CONTACTS, LAMPS_OF_A_VALVE

__all__ = ["SHORTEST", "WakeWordError", "after_wake_word", "check_wake_word"]

SHORTEST = 5
"""Letters: what is shorter is too easily heard in other words (common practice, no source)."""

_MOST_KEPT = 512


class WakeWordError(ValueError):
    """A word that cannot be the wake word, and why, in the user's words."""


def check_wake_word(word: str, book: PhraseBook) -> None:
    """Refuse a word that would not be told from what it stands before.

    >>> from assistant.language.english import english
    >>> check_wake_word("kingfisher", english())
    >>> check_wake_word("hold", english())
    Traceback (most recent call last):
    ...
    assistant.language.wake_word.WakeWordError: 'hold' cannot be the wake word: it is said in jobs

    Raises:
        WakeWordError: it is no single word in lower case, too short, or said as a command or an
            answer. Choices of a procedure, and colours of lamps but green and red, are not looked
            at.
    """
    if not re.fullmatch("[a-z]+", word):
        reason = "it is no single word in small letters"
    elif any(word in one.vocabulary() for one in _said_in_jobs(book)):
        reason = "it is said in jobs"
    elif len(word) < SHORTEST:
        reason = f"it has fewer than {SHORTEST} letters"
    else:
        return
    raise WakeWordError(f"'{word}' cannot be the wake word: {reason}")


def _said_in_jobs(book: PhraseBook) -> Iterator[Grammar]:
    contacts = AskContacts(ALL_CONTACTS)
    lamps = AskLamps(LAMPS_OF_A_VALVE)  # a sheet with other colours is not looked at
    yield confirming(contacts, book)  # the commands among it
    for question in (
        *(contacts, AskRotation(), AskSpelling(), AskDone(), AskMark(), lamps),
        *(AskNumber(name) for unit in book.units for name in unit.names),
        *map(AskAgreement, book.roles),
    ):
        yield grammar(question, book)


@functools.lru_cache(_MOST_KEPT)
def after_wake_word(reply: Grammar, word: str, book: PhraseBook) -> Grammar:
    """The same sentences with a word before each, and "hold" with and without it.

    >>> from assistant.language.answers import AskYesNo, grammar
    >>> from assistant.language.english import english
    >>> woken = after_wake_word(grammar(AskYesNo(), english()), "kingfisher", english())
    >>> woken.parse("kingfisher yes")
    Command(word=<Word.YES: 'yes'>)
    >>> woken.parse("yes"), woken.parse("hold")
    (None, Command(word=<Word.HOLD: 'hold'>))
    """
    called = (
        replace(rule, expression=Sequence(Term(word), rule.expression)) for rule in reply.rules
    )
    return Grammar((*called, *hold_only(book).rules))
