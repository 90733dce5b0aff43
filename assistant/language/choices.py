"""One of the choices that a step offers."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.language.commands import command_phrases
from assistant.language.grammar import OneOf, Rule, Tag, Term, words_of
from assistant.language.meaning import Choice, Meaning
from assistant.language.phrase_book import PhraseBook
from assistant.language.speaking import say_choice

__all__ = ["choice", "choice_terms"]


def choice(names: tuple[str, ...], book: PhraseBook) -> Rule:
    """One of the named choices.

    Args:
        names: as the procedure writes them; hyphens and figures are said as words.
        book: the phrase book.

    Raises:
        ValueError: if a choice has no words, or the words of another choice or of a command.
    """
    terms = choice_terms(names, book)
    return Rule(
        name="choice",
        expression=OneOf(*terms),
        interpret=_chosen,
        examples=tuple(term.spoken for term in terms),
    )


def choice_terms(
    names: tuple[str, ...],
    book: PhraseBook,
    kind: str = "choice",
    taken: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Term, ...]:
    """One term for each name.

    Args:
        names: as a file writes them.
        book: the phrase book.
        kind: what is named, for errors.
        taken: words that mean something else beside the commands, and what they are.

    Raises:
        ValueError: if a name has no words, or the words of another one, of a command, or of what
            else is taken.
    """
    terms = tuple(_term(name, book, kind) for name in names)
    commands = {said: f"the command '{said}'" for said in command_phrases(book)}
    _refuse_taken_words(terms, kind, commands | dict(taken))
    return terms


def _term(name: str, book: PhraseBook, kind: str) -> Term:
    written = " ".join(words_of(name))
    if not written:
        raise ValueError(f"the {kind} {name!r} has no words to say: name it in words")
    said = say_choice(name, book)
    return Term(said, (written,) if written != said else (), name)


def _refuse_taken_words(terms: tuple[Term, ...], kind: str, taken: dict[str, str]) -> None:
    for term in terms:
        if term.spoken in taken:
            message = f"the {kind} '{term.tag}' sounds like {taken[term.spoken]}: rename one"
            raise ValueError(message)
        taken[term.spoken] = f"the {kind} '{term.tag}'"


def _chosen(tags: tuple[Tag, ...]) -> Meaning | None:
    return Choice(str(tags[0]))
