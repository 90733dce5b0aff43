"""Numbers with or without a unit: "twenty five", "one and a half turns", "two point four percent".

Whole numbers reach from 0 to 99; quarters and halves may be added, or one or two decimals.
"""

from __future__ import annotations

import enum

from assistant.language.grammar import Expression, Many, Maybe, OneOf, Rule, Sequence, Tag
from assistant.language.meaning import Quantity
from assistant.language.phrase_book import PhraseBook, UnitWords
from assistant.language.phrases import any_of
from assistant.language.speaking import say_number

__all__ = ["MOST_DECIMALS", "number"]

MOST_DECIMALS = 2


class _Kind(enum.Enum):
    WHOLE = enum.auto()
    PART = enum.auto()
    DECIMAL = enum.auto()


def number(name: str | None, book: PhraseBook) -> Rule:
    """A number, and after it the unit if there is one; the unit may be left out.

    Args:
        name: the name of the unit, or None for a bare number.
        book: the phrase book.

    Raises:
        ValueError: if the book has no words for the unit.
    """
    unit = _unit(name, book)
    return Rule(
        name="number",
        expression=_quantity(unit, book),
        interpret=lambda tags: Quantity(_value(tags), name),
        examples=_examples(name, book),
    )


def _unit(name: str | None, book: PhraseBook) -> UnitWords | None:
    if name is None:
        return None
    unit = book.unit(name)
    if unit is None:
        known = ", ".join(known for unit in book.units for known in unit.names)
        raise ValueError(f"the phrase book has no words for the unit '{name}'; it knows {known}")
    return unit


def _quantity(unit: UnitWords | None, book: PhraseBook) -> Expression:
    if unit is None:
        return _number(book)
    words = any_of(unit.phrases)
    part_of_one = OneOf(*(any_of(part.of_one, (_Kind.PART, part.value)) for part in book.fractions))
    return OneOf(Sequence(_number(book), Maybe(words)), Sequence(part_of_one, words))


def _number(book: PhraseBook) -> Expression:
    wholes = (any_of(said, (_Kind.WHOLE, value)) for value, said in enumerate(book.numbers))
    added = (any_of(part.added, (_Kind.PART, part.value), part.sign) for part in book.fractions)
    alone = (any_of(part.alone, (_Kind.PART, part.value), part.sign) for part in book.fractions)
    return OneOf(
        Sequence(OneOf(*wholes), Maybe(OneOf(*added, _decimals(book)))),
        *alone,
    )


def _decimals(book: PhraseBook) -> Expression:
    digits = (
        any_of(said, (_Kind.DECIMAL, str(digit)), typed=str(digit))
        for digit, said in enumerate(book.digits)
    )
    return Sequence(any_of(book.point), Many(OneOf(*digits), 1, MOST_DECIMALS))


def _value(tags: tuple[Tag, ...]) -> float:
    whole, part, decimals = 0, 0.0, ""
    for tag in tags:
        match tag:
            case (_Kind.WHOLE, int() as value):
                whole = value
            case (_Kind.PART, float() as value):
                part = value
            case (_Kind.DECIMAL, str() as digit):
                decimals += digit
    return part + float(f"{whole}.{decimals or 0}")


def _examples(name: str | None, book: PhraseBook) -> tuple[str, ...]:
    values = (12.0, 1.5, 2.4) if name else (12.0, 2.4)
    return tuple(say_number(value, name, book) for value in values)
