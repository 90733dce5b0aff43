"""Letters and digits spelled one at a time: "kilo foxtrot zero seven"."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from assistant.language.grammar import Many, Maybe, OneOf, Rule, Sequence, Tag, words_of
from assistant.language.meaning import Meaning, Spelling
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import Phrase, any_of
from assistant.language.speaking import is_spelled, spell

__all__ = [
    "LONGEST_SPELLING",
    "has_foreign_letters",
    "letters_and_digits",
    "spelled",
    "spelling_of",
]

LONGEST_SPELLING = 12
"""Letters and digits; dashes do not count."""


def spelled(book: PhraseBook) -> Rule:
    """One to `LONGEST_SPELLING` letters and digits; dashes between them count for nothing."""
    letters = (any_of(said, letter, letter.lower()) for letter, said in book.letters.items())
    digits = (
        any_of(tuple(map(_as_digit, said)), str(digit), str(digit))
        for digit, said in enumerate(book.digits)
    )
    character = OneOf(*letters, *digits)
    following = Sequence(Maybe(any_of(book.dash, typed="-")), character)
    return Rule(
        name="spelling",
        expression=Sequence(character, Many(following, 0, LONGEST_SPELLING - 1)),
        interpret=_spelling,
        examples=(spell("AB12", book),),
    )


def letters_and_digits(text: str) -> str:
    """What of a text is spelled: capital letters and digits; dashes are written, but not said.

    >>> letters_and_digits("kf-07")
    'KF07'
    """
    return "".join(filter(is_spelled, text)).upper()


def spelling_of(text: str, book: PhraseBook) -> str | None:
    """The letters and digits that a text says one by one or in numbers; None if it says more.

    Where the words of a number could be two numbers, they are one.

    >>> from assistant.language.english import english
    >>> spelling_of("kilo foxtrot zero seven", english())
    'KF07'
    >>> spelling_of("kilo foxtrot - twenty one", english())
    'KF21'
    >>> spelling_of("pump kilo foxtrot", english()) is None
    True
    """
    said = _said_in_spellings(book)
    words, found = words_of(text), ""
    while words:
        length = next((n for n in (2, 1) if words[:n] in said), 0)
        if length:
            found += said[words[:length]]
        elif words[0].isascii() and (words[0].isdigit() or len(words[0]) == 1):
            length, found = 1, found + words[0].upper()
        else:
            return None
        words = words[length:]
    return letters_and_digits(found)


@lru_cache(maxsize=4)
def _said_in_spellings(book: PhraseBook) -> Mapping[tuple[str, ...], str]:
    """What each of the words stands for with which a tag can be spelled."""
    said = [(phrase, "") for phrase in book.dash]
    said += [(phrase, letter) for letter, those in book.letters.items() for phrase in those]
    for numbers in (book.numbers, book.digits):
        for value, those in enumerate(numbers):
            said += [(_as_digit(phrase), str(value)) for phrase in those]
    return {
        words_of(form): meant
        for phrase, meant in said
        for form in (phrase.spoken, *phrase.spellings)
    }


def has_foreign_letters(text: str) -> bool:
    """Whether a text has letters or digits that cannot be said, so that it would lose them."""
    return any(character.isalnum() and not is_spelled(character) for character in text)


def _as_digit(phrase: Phrase) -> Phrase:
    """The phrase written as itself or as a figure only.

    "To" and "for" are written for "two" and "four" between other words; in a spelling a recogniser
    puts them in where nothing was said.
    """
    return Phrase(phrase.spoken, tuple(form for form in phrase.spellings if form.isdigit()))


def _spelling(tags: tuple[Tag, ...]) -> Meaning | None:
    return Spelling("".join(str(tag) for tag in tags))
