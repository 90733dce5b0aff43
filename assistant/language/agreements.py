"""The verdict of a second person: "checker, correct"."""

from __future__ import annotations

from assistant.language.grammar import Maybe, OneOf, Rule, Sequence, Tag
from assistant.language.meaning import Agreement, Meaning, Word
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of

__all__ = ["agreement"]

_VERDICTS = (Word.YES, Word.NO)


def agreement(role: str, book: PhraseBook) -> Rule:
    """The own role word, and then yes or no.

    Without the role word nothing is understood. Yes and no alone are sentences of the rule all the
    same, without a meaning: a recogniser that hears them need not take them for a command.

    Raises:
        ValueError: if the book has no words for the role.
    """
    if role not in book.roles:
        known = ", ".join(book.roles)
        raise ValueError(f"the phrase book has no words for the role '{role}'; it knows {known}")
    verdicts = OneOf(*(any_of(book.words[word], word) for word in _VERDICTS))
    said = book.roles[role][0].spoken
    return Rule(
        name="agreement",
        expression=Sequence(Maybe(any_of(book.roles[role], role)), verdicts),
        interpret=_agreement,
        examples=tuple(f"{said} {_last(book, word)}" for word in _VERDICTS),
    )


def _last(book: PhraseBook, word: Word) -> str:
    """The longest word for a verdict, which is the easiest to hear."""
    return book.words[word][-1].spoken


def _agreement(tags: tuple[Tag, ...]) -> Meaning | None:
    match tags:
        case (str(role), Word.YES | Word.NO as word):
            return Agreement(role, agrees=word is Word.YES)
    return None
