"""Letters and digits spelled one at a time: "kilo foxtrot zero seven"."""

from __future__ import annotations

from assistant.language.grammar import Many, Maybe, OneOf, Rule, Sequence, Tag
from assistant.language.meaning import Meaning, Spelling
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import Phrase, any_of
from assistant.language.speaking import is_spelled, spell

__all__ = [
    "LONGEST_SPELLING",
    "has_foreign_letters",
    "letters_and_digits",
    "spelled",
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
