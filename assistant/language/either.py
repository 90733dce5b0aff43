"""One of two answers, after it was unclear which was said: "five or nine turns?".

Only the two can be heard, each in the ways in which a person would say it then, and "no", where
neither was meant and "no" is no answer of its own there.
"""

from __future__ import annotations

from assistant.language.choices import choice_terms
from assistant.language.commands import GLOBAL_WORDS
from assistant.language.grammar import Expression, Maybe, OneOf, Rule, Sequence, Tag, Term
from assistant.language.meaning import (
    Called,
    Choice,
    Command,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of
from assistant.language.questions import AskEither, AskYesNo
from assistant.language.speaking import say_choice, say_meaning, say_number, spell

__all__ = ["can_be_told_apart", "either", "odd_letter", "say_either"]

_NEITHER = "neither"


def can_be_told_apart(first: Meaning, second: Meaning) -> bool:
    """Whether two answers are short enough to be asked about in one breath.

    Not so: lists of contacts or lamps, a verdict, a correction, and spellings that differ in more
    than one letter; and two ways to end that are the same.
    """
    match first, second:
        case Spelling(), Spelling():
            return odd_letter(first, second) is not None
        case (
            Command() | ShaftTurn() | Quantity() | Called() | Choice(),
            Command() | ShaftTurn() | Quantity() | Called() | Choice(),
        ):
            return first != second
    return False


def odd_letter(one: Spelling, two: Spelling) -> int | None:
    """The one place at which two spellings differ; None where they differ in more than one."""
    if len(one.text) != len(two.text):
        return None
    pairs = zip(one.text, two.text, strict=True)
    places = [at for at, (first, second) in enumerate(pairs) if first != second]
    return places[0] if len(places) == 1 else None


def either(asked: AskEither, book: PhraseBook) -> Rule:
    """One of the two, or neither."""
    readings = (asked.first, asked.second)
    ways = [
        _ways(reading, readings[1 - at], at, book)
        for at, reading in enumerate(readings)
        if not (isinstance(reading, Command) and reading.word in GLOBAL_WORDS)
    ]
    if not {Command(Word.YES), Command(Word.NO)} & {*readings} and not _is_yes_no(asked):
        ways.append(any_of(book.words[Word.NO], _NEITHER))

    def chosen(tags: tuple[Tag, ...]) -> Meaning | None:
        if tags == (_NEITHER,):
            return Command(Word.NO)
        told = set(tags)
        return next((one for at, one in enumerate(readings) if told == {at}), None)

    return Rule("one of two", OneOf(*ways), chosen, say_either(asked, book))


def _is_yes_no(asked: AskEither) -> bool:
    return isinstance(asked.question, AskYesNo)


def _ways(reading: Meaning, other: Meaning, tag: int, book: PhraseBook) -> Expression:
    """How a person would say it, when only the other one could be meant as well."""
    match reading:
        case Command(word):
            return any_of(book.words[word], tag)
        case ShaftTurn(rotation):
            return any_of(book.rotations[rotation], tag)
        case Choice(name):
            return _named(name, tag, book)
        case Quantity():
            return _counted(reading, tag, book)
        case Called(name, number):
            return _called(name, number, other, tag, book)
        case Spelling(text):
            return _letter(text, other, tag, book)
    raise ValueError(f"{reading!r} cannot be asked about in one breath")


def _named(name: str, tag: int, book: PhraseBook) -> Term:
    (term,) = choice_terms((name,), book)
    return Term(term.spoken, term.spellings, tag)


def _called(name: str, number: Quantity, other: Meaning, tag: int, book: PhraseBook) -> Expression:
    called = Sequence(_named(name, tag, book), Maybe(any_of(book.at)))
    counted = _counted(number, tag, book)
    match other:
        case Called(name=its, number=same) if its != name and same == number:
            return Sequence(called, Maybe(counted))
        case Called(name=its) if its != name:
            return Sequence(called, counted)
    return Sequence(Maybe(called), counted)


def _counted(number: Quantity, tag: int, book: PhraseBook) -> Expression:
    unit = book.unit(number.unit) if number.unit else None
    after = Maybe(any_of(unit.phrases)) if unit else Sequence()
    whole, beyond = int(number.value), number.value % 1
    if not beyond:
        return Sequence(_whole(whole, tag, book), after)
    decimal = Sequence(_as_figures(number.value, tag, book), after)
    part = next((part for part in book.fractions if part.value == beyond), None)
    if part is None:
        return decimal
    if whole:
        added = any_of(part.added, tag, part.sign)
        return OneOf(decimal, Sequence(_whole(whole, tag, book), added, after))
    alone = any_of(part.alone, tag, part.sign)
    return OneOf(decimal, alone, Sequence(any_of(part.of_one, tag), after))


def _whole(value: int, tag: int, book: PhraseBook) -> Expression:
    known = value < len(book.numbers)
    return any_of(book.numbers[value], tag) if known else _as_figures(value, tag, book)


def _as_figures(value: float, tag: int, book: PhraseBook) -> Term:
    return Term(say_number(value, None, book), (f"{value:g}",), tag)


def _letter(text: str, other: Meaning, tag: int, book: PhraseBook) -> Expression:
    """The letter that is in doubt, alone or within the whole."""
    assert isinstance(other, Spelling), "it is told apart from another spelling"
    at = odd_letter(Spelling(text), other)
    assert at is not None, "they differ in one letter"
    return OneOf(
        _character(text[at], tag, book),
        Sequence(*(_character(character, tag, book) for character in text)),
    )


def _character(character: str, tag: int, book: PhraseBook) -> Expression:
    said = book.digits[int(character)] if character.isdigit() else book.letters[character]
    return any_of(said, tag, character.lower())


def say_either(asked: AskEither, book: PhraseBook) -> tuple[str, str]:
    """The fewest words that tell the two apart.

    >>> from assistant.language.english import english
    >>> from assistant.language.questions import AskNumber
    >>> five, nine = (Called("mark", Quantity(n, "turns")) for n in (5.0, 9.0))
    >>> say_either(AskEither(AskNumber("turns", ("mark",)), five, nine), english())
    ('five', 'nine turns')
    """
    first, second = asked.first, asked.second
    match first, second:
        case Called(name, one), Called(same, two) if name == same:
            return _say_numbers(one, two, book)
        case Called(name, one), Called(other, two) if one == two:
            return say_choice(name, book), say_choice(other, book)
        case Quantity(), Quantity():
            return _say_numbers(first, second, book)
        case Spelling(), Spelling():
            at = odd_letter(first, second)
            assert at is not None, "they differ in one letter"
            return spell(first.text[at], book), spell(second.text[at], book)
    words = tuple(_say_one(asked, reading, book) for reading in (first, second))
    return words[0], words[1]


def _say_numbers(one: Quantity, two: Quantity, book: PhraseBook) -> tuple[str, str]:
    """The unit is said once, but where a fraction needs it."""
    once = one.unit == two.unit and one.value % 1 == 0
    return say_number(one.value, None if once else one.unit, book), say_meaning(two, book)


def _say_one(asked: AskEither, reading: Meaning, book: PhraseBook) -> str:
    match reading:
        case Command(Word.YES | Word.NO as word) if not _is_yes_no(asked):
            # At a read-back the longer word is said, which is the easier one to hear.
            return book.words[word][-1].spoken
    return say_meaning(reading, book)
