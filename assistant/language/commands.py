"""Rules for the fixed words: the global commands, and the words that answer."""

from __future__ import annotations

from assistant.language.grammar import OneOf, Rule, Tag
from assistant.language.meaning import Command, Meaning, Word
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of

__all__ = ["GLOBAL_WORDS", "command_phrases", "global_commands", "word_rule"]

GLOBAL_WORDS = (
    Word.SAY_AGAIN,
    Word.HOLD,
    Word.HELP,
    Word.GO_BACK,
    Word.SKIP,
    Word.CARRY_ON,
    Word.WHERE_AM_I,
    Word.REPEAT_CONTACTS,
    Word.SLOWER,
    Word.FASTER,
    Word.LOUDER,
    Word.SOFTER,
    Word.NOTE,
)
"""What may be said at every step, most useful first."""


def command_phrases(book: PhraseBook) -> tuple[str, ...]:
    """Everything by which a command can be given, the way to say each first."""
    return tuple(phrase.spoken for word in GLOBAL_WORDS for phrase in book.words[word])


def word_rule(name: str, words: tuple[Word, ...], book: PhraseBook) -> Rule:
    """A reply that is one of the fixed words."""
    return Rule(
        name=name,
        expression=OneOf(*(any_of(book.words[word], word) for word in words)),
        interpret=_command,
        examples=tuple(book.words[word][0].spoken for word in words),
    )


def _command(tags: tuple[Tag, ...]) -> Meaning | None:
    match tags:
        case (Word() as word,):
            return Command(word)
    return None


def global_commands(book: PhraseBook) -> Rule:
    """The commands that may be said at every step."""
    return word_rule("commands", GLOBAL_WORDS, book)
