"""Numbers with or without a unit: "twenty five", "one and a half turns", "two point four percent".

Whole numbers reach from 0 to 999; quarters and halves may be added, or one or two decimals. Of a
unit whose parts are fractions the decimals are those of the fractions and no others, for a
recogniser that may write any figures after "fifteen" writes some for "turns"; what is counted has
neither. The words below one hundred stand once in the graph, for they may follow hundreds or begin
a number; so "one" has the same tag in "one hundred" and in "one", and what follows decides what it
counts.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping

from assistant.language.grammar import Expression, Many, Maybe, OneOf, Rule, Sequence, Tag, Term
from assistant.language.meaning import Quantity
from assistant.language.phrase_book import PhraseBook, UnitWords
from assistant.language.phrases import any_of
from assistant.language.speaking import say_number

__all__ = [
    "LARGEST",
    "MOST_DECIMALS",
    "digit_by_digit",
    "number",
    "quantity_expression",
    "quantity_of",
]

LARGEST = 999.0
MOST_DECIMALS = 2


class _Kind(enum.Enum):
    WHOLE = enum.auto()
    HUNDRED = enum.auto()
    FIGURE = enum.auto()
    PART = enum.auto()
    DECIMAL = enum.auto()


def number(name: str | None, book: PhraseBook, most: float = LARGEST) -> Rule:
    """A number, and after it the unit if there is one; the unit may be left out.

    Args:
        name: the name of the unit, or None for a bare number.
        book: the phrase book.
        most: where it is below one hundred, hundreds are left out.

    Raises:
        ValueError: if the book has no words for the unit.
    """
    return Rule(
        name="number",
        expression=quantity_expression(name, book, most),
        interpret=lambda tags: quantity_of(tags, name),
        examples=_examples(name, book),
    )


def digit_by_digit(name: str | None, book: PhraseBook) -> Rule:
    """A number of up to three digits, told one at a time: "one five" for fifteen.

    Parts of one may follow as they are always told; arguments and errors are those of `number`.
    """
    unit = _unit(name, book)
    figures = OneOf(
        *(
            any_of(said, (_Kind.FIGURE, str(digit)), typed=str(digit))
            for digit, said in enumerate(book.digits)
        )
    )
    return Rule(
        name="digits",
        expression=_quantity(unit, book, Many(figures, 1, 3)),
        interpret=lambda tags: quantity_of(tags, name),
        examples=(f"{book.digits[1][0].spoken} {book.digits[5][0].spoken}",),
    )


def quantity_expression(name: str | None, book: PhraseBook, most: float = LARGEST) -> Expression:
    """A number and its unit, as a part of a larger expression; raises ValueError as `number`."""
    return _quantity(_unit(name, book), book, _whole(book, most))


def quantity_of(tags: tuple[Tag, ...], name: str | None) -> Quantity | None:
    """What the tags of such an expression mean; None where they are no number."""
    value = _value(tags)
    return None if value is None else Quantity(value, name)


def _unit(name: str | None, book: PhraseBook) -> UnitWords | None:
    if name is None:
        return None
    unit = book.unit(name)
    if unit is None:
        known = ", ".join(known for unit in book.units for known in unit.names)
        raise ValueError(f"the phrase book has no words for the unit '{name}'; it knows {known}")
    return unit


def _quantity(unit: UnitWords | None, book: PhraseBook, whole: Expression) -> Expression:
    if unit is None:
        return _number(book, whole, _decimals(book))
    words = any_of(unit.phrases)
    if unit.parts == "none":
        return Sequence(whole, Maybe(words))
    part_of_one = OneOf(*(any_of(part.of_one, (_Kind.PART, part.value)) for part in book.fractions))
    told = _told_fractions(book) if unit.parts == "fractions" else _decimals(book)
    return OneOf(Sequence(_number(book, whole, told), Maybe(words)), Sequence(part_of_one, words))


def _number(book: PhraseBook, whole: Expression, decimals: Expression) -> Expression:
    added = (any_of(part.added, (_Kind.PART, part.value), part.sign) for part in book.fractions)
    alone = (any_of(part.alone, (_Kind.PART, part.value), part.sign) for part in book.fractions)
    return OneOf(Sequence(whole, Maybe(OneOf(*added, decimals))), *alone)


def _whole(book: PhraseBook, most: float) -> Expression:
    if most >= len(book.numbers):
        return OneOf(_with_hundreds(book), _figures())
    return OneOf(*_wholes(book, range(100)))


def _with_hundreds(book: PhraseBook) -> Expression:
    below = OneOf(*_wholes(book, range(100)))
    counted = Sequence(OneOf(*_wholes(book, range(1, 10))), any_of(book.hundred, _Kind.HUNDRED))
    hundreds = OneOf(counted, any_of(book.one_hundred, _Kind.HUNDRED))
    before = Sequence(hundreds, Maybe(any_of(book.lists.and_)))
    return OneOf(Sequence(Maybe(before), below), hundreds)


def _wholes(book: PhraseBook, values: range) -> Iterator[Expression]:
    return (any_of(book.numbers[value], (_Kind.WHOLE, value)) for value in values)


def _figures() -> Expression:
    """Three figures written together, which can be typed and are never said one by one."""
    first, *others = (
        OneOf(*(Term("", (), (_Kind.FIGURE, str(figure)), str(figure)) for figure in figures))
        for figures in (range(1, 10), range(10), range(10))
    )
    return Sequence(first, *others)


def _decimals(book: PhraseBook) -> Expression:
    digits = (_decimal(str(digit), book) for digit in range(10))
    return Sequence(any_of(book.point), Many(OneOf(*digits), 1, MOST_DECIMALS))


def _told_fractions(book: PhraseBook) -> Expression:
    """The fractions as decimals, "point two five"."""
    figures = (f"{part.value:g}".removeprefix("0.") for part in book.fractions)
    told = (Sequence(*(_decimal(digit, book) for digit in digits)) for digits in figures)
    return Sequence(any_of(book.point), OneOf(*told))


def _decimal(digit: str, book: PhraseBook) -> Expression:
    return any_of(book.digits[int(digit)], (_Kind.DECIMAL, digit), typed=digit)


def _value(tags: tuple[Tag, ...]) -> float | None:
    hundreds, part, figures, decimals = 0, 0.0, "", ""
    whole: int | None = None
    for tag in tags:
        match tag:
            case (_Kind.WHOLE, int() as value):
                whole = value
            case _Kind.HUNDRED:
                hundreds, whole = 100 * (1 if whole is None else whole), None
            case (_Kind.FIGURE, str() as figure):
                figures += figure
            case (_Kind.PART, float() as value):
                part = value
            case (_Kind.DECIMAL, str() as digit):
                decimals += digit
    if hundreds and whole == 0:
        return None  # "one hundred and zero" is no number
    return float(f"{figures or hundreds + (whole or 0)}.{decimals or 0}") + part


def _examples(name: str | None, book: PhraseBook) -> tuple[str, ...]:
    unit = _unit(name, book)
    values = _EXAMPLES["decimals" if unit is None else unit.parts]
    return tuple(say_number(value, name, book) for value in values)


_EXAMPLES: Mapping[str, tuple[float, ...]] = {
    "fractions": (12.0, 1.5, 2.25),
    "decimals": (12.0, 2.4),
    "none": (12.0, 3.0),
}
"""Numbers of which help names some, by how parts of the unit are told."""
