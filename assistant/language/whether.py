"""Whether one thing is so: yes or no, or the state itself in a word.

What is asked is a contact, a lamp or a rotation; "open" to "is contact one closed?" means no.
"""

from __future__ import annotations

from assistant.language.contact_lists import contact_states
from assistant.language.grammar import Expression, OneOf, Rule, Tag
from assistant.language.meaning import Command, ContactStates, Lit, Meaning, ShaftTurn, Word
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of
from assistant.language.questions import AskWhether
from assistant.language.rotations import shaft_rotation

__all__ = ["whether"]


def whether(asked: AskWhether, book: PhraseBook) -> Rule:
    """Yes or no, or the state in a word, which means one of them."""
    words = OneOf(*(any_of(book.words[word], word) for word in (Word.YES, Word.NO)))
    named = _named(asked, book)

    def answered(tags: tuple[Tag, ...]) -> Meaning | None:
        match tags:
            case (Word() as word,):
                return Command(word)
        meaning = named.interpret(tags)
        return None if meaning is None else Command(Word.YES if meaning == asked.so else Word.NO)

    return Rule(
        "yes or no",
        OneOf(words, named.expression),
        answered,
        tuple(book.words[word][0].spoken for word in (Word.YES, Word.NO)),
    )


def _named(asked: AskWhether, book: PhraseBook) -> Rule:
    match asked.so:
        case ContactStates() as states:
            return contact_states(tuple(states.mapping()), book)
        case ShaftTurn():
            return shaft_rotation(book)
        case Lit() as lamp:
            return Rule("lamp", _lit_or_dark(book), lambda tags: lamp if True in tags else Lit(()))


def _lit_or_dark(book: PhraseBook) -> Expression:
    return OneOf(any_of(book.lamps.lit, True), any_of(book.lamps.dark, False))
