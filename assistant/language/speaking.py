"""How the program says values.

What is said here for a meaning, the grammar of its question understands as that meaning.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from assistant.language.english import english
from assistant.language.grammar import words_of
from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    ContactStates,
    Correction,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.phrase_book import FractionWords, PhraseBook, UnitWords
from assistant.trade.contacts import ContactState
from assistant.trade.travel import quarter_turns

MOST_LISTED = 8
"""Contacts beyond which a reading names only those in the rarer state, so that it stays short."""

__all__ = [
    "MOST_LISTED",
    "is_spelled",
    "say_choice",
    "say_contacts",
    "say_count",
    "say_meaning",
    "say_number",
    "say_reading",
    "say_turns",
    "say_unit",
    "spell",
]


def say_number(value: float, unit: str | None = None, book: PhraseBook | None = None) -> str:
    """Say a number, with its unit if it has one.

    Args:
        value: finite; said to two decimals, or as a fraction where the unit is told so.
        unit: a name of the unit; one that the book has no words for is said as it is written.
        book: the phrase book; English if none is given.

    Raises:
        ValueError: if the value is not finite.

    >>> say_number(1.5, "turns")
    'one and a half turns'
    >>> say_number(2.4, "%")
    'two point four percent'
    >>> say_number(120)
    'one hundred and twenty'
    """
    if not math.isfinite(value):
        raise ValueError(f"only a finite number can be said, not {value}")
    book = book or english()
    size = round(abs(value), 2)
    said = _say_size(size, unit, book)
    return book.templates["minus"].format(number=said) if value < 0 and size else said


def say_count(value: float, unit: str | None, book: PhraseBook | None = None) -> str:
    """Say a number as `say_number` does, without the words of its unit.

    Args, errors: as `say_number`.

    >>> say_count(1.5, "turns"), say_count(0.5, "turns"), say_count(2.4, "%")
    ('one and a half', 'half', 'two point four')
    """
    book = book or english()
    words = book.unit(unit or "")
    size = round(abs(value), 2)
    fraction = _fraction(size, words, book) if words and math.isfinite(value) else None
    if fraction is None:
        return say_number(value, None, book)
    said = fraction.alone[0].spoken if size < 1 else _say_mixed(size, fraction, book)
    return book.templates["minus"].format(number=said) if value < 0 else said


def _say_mixed(size: float, fraction: FractionWords, book: PhraseBook) -> str:
    whole, part = _say_whole(int(size), book), fraction.added[0].spoken
    return book.templates["mixed"].format(whole=whole, part=part)


def _say_size(size: float, name: str | None, book: PhraseBook) -> str:
    if name is None:
        return _say_decimal(size, book)
    unit = book.unit(name)
    if unit is None:
        return _quantity(_say_decimal(size, book), name, book)
    fraction = _fraction(size, unit, book)
    if fraction is None:
        words = unit.one if size == 1 else unit.many
        return _quantity(_say_decimal(size, book), words[0].spoken, book)
    if size < 1:
        return _quantity(fraction.of_one[0].spoken, unit.one[0].spoken, book)
    return _quantity(_say_mixed(size, fraction, book), unit.many[0].spoken, book)


def _fraction(size: float, unit: UnitWords, book: PhraseBook) -> FractionWords | None:
    """The fraction in which the unit tells what is beyond the whole number, if it has a name."""
    told = book.fractions if unit.parts == "fractions" else ()
    return next((part for part in told if part.value == size % 1), None)


def _quantity(number: str, unit: str, book: PhraseBook) -> str:
    return book.templates["quantity"].format(number=number, unit=unit)


def _say_decimal(size: float, book: PhraseBook) -> str:
    whole, _, decimals = f"{size:.2f}".partition(".")
    said = _say_whole(int(whole), book)
    digits = decimals.rstrip("0")
    if not digits:
        return said
    point = book.point[0].spoken
    return book.templates["decimal"].format(whole=said, point=point, digits=_digits(digits, book))


def _digits(digits: str, book: PhraseBook) -> str:
    return " ".join(book.digits[int(digit)][0].spoken for digit in digits)


def _say_whole(value: int, book: PhraseBook) -> str:
    if value < 100:
        return book.numbers[value][0].spoken
    if value >= 1_000_000:
        return _digits(str(value), book)
    size, name = (1000, "thousands") if value >= 1000 else (100, "hundreds")
    count, rest = divmod(value, size)
    if rest:
        name += "-and" if rest < 100 else "-more"
    said = _say_whole(count, book)
    return book.templates[name].format(count=said, rest=_say_whole(rest, book))


def say_unit(name: str, book: PhraseBook | None = None) -> str:
    """Say a unit after a number that is not known; one without words as it is written.

    >>> say_unit("turn")
    'turns'
    """
    unit = (book or english()).unit(name)
    return name if unit is None else unit.many[0].spoken


def say_contacts(contacts: Iterable[int], book: PhraseBook | None = None) -> str:
    """Say contact numbers.

    >>> say_contacts((1, 2, 3))
    'one, two and three'
    """
    book = book or english()
    return _say_list([_say_whole(contact, book) for contact in contacts], book)


def _say_list(items: list[str], book: PhraseBook) -> str:
    said, *others = items or [""]
    for item in others[:-1]:
        said = book.templates["list"].format(first=said, next=item)
    for item in others[-1:]:
        said = book.templates["list-end"].format(first=said, last=item)
    return said


def say_reading(states: Mapping[int, ContactState], book: PhraseBook | None = None) -> str:
    """Say the states of contacts, those of the same state together, in order of contact number.

    Of more than `MOST_LISTED` contacts those in the commoner state are "the others": such a reading
    has to be that of all contacts that were asked.

    >>> say_reading({1: ContactState.CLOSED, 2: ContactState.CLOSED, 3: ContactState.OPEN})
    'one and two closed, three open'
    """
    book = book or english()
    groups: dict[ContactState, list[int]] = {}
    for contact, state in sorted(states.items()):
        groups.setdefault(state, []).append(contact)
    if len(states) > MOST_LISTED and len(groups) > 1:
        return _say_with_others(groups, book)
    said, *others = [_say_group(state, group, book) for state, group in groups.items()] or [""]
    for other in others:
        said = book.templates["list"].format(first=said, next=other)
    return said


def _say_with_others(groups: dict[ContactState, list[int]], book: PhraseBook) -> str:
    """The state with fewer contacts in full, and the other as that of all others."""
    few, many = sorted(groups, key=lambda state: len(groups[state]))
    others = book.templates["reading"].format(
        contacts=book.lists.others[0].spoken, state=book.states[many][0].spoken
    )
    return book.templates["list"].format(first=_say_group(few, groups[few], book), next=others)


def _say_group(state: ContactState, contacts: list[int], book: PhraseBook) -> str:
    return book.templates["reading"].format(
        contacts=say_contacts(contacts, book), state=book.states[state][0].spoken
    )


def spell(text: str, book: PhraseBook | None = None) -> str:
    """Spell letters and digits one by one; anything else counts for nothing.

    >>> spell("KF-07")
    'kilo foxtrot zero seven'
    """
    book = book or english()
    return " ".join(
        _character(character, book) for character in text.upper() if is_spelled(character)
    )


def is_spelled(character: str) -> bool:
    """Whether it is one of the letters and digits that are said one at a time.

    >>> [is_spelled(character) for character in "k7-Ж"]
    [True, True, False, False]
    """
    return character.isascii() and character.isalnum()


def _character(character: str, book: PhraseBook) -> str:
    if character.isdigit():
        return book.digits[int(character)][0].spoken
    return book.letters[character][0].spoken


def say_choice(name: str, book: PhraseBook | None = None) -> str:
    """Say a choice: its words, and numbers up to 99 in words.

    >>> say_choice("rotor-2")
    'rotor two'
    """
    book = book or english()
    return " ".join(_word(word, book) for word in words_of(name))


def _word(word: str, book: PhraseBook) -> str:
    is_number = word.isascii() and word.isdigit() and int(word) < len(book.numbers)
    return book.numbers[int(word)][0].spoken if is_number else word


def say_turns(exact: float, book: PhraseBook | None = None) -> str:
    """Say handwheel turns to the nearest quarter, which is as fine as a person counts.

    Where that changes the count, the exact one is said after it, to two decimals.

    Args:
        exact: handwheel turns; finite.
        book: the phrase book; English if none is given.

    Raises:
        ValueError: if the count is not finite.

    >>> say_turns(12)
    'twelve turns'
    >>> say_turns(28.8)
    'twenty eight and three quarters turns, rounded from twenty eight point eight'
    """
    book = book or english()
    if not math.isfinite(exact):
        raise ValueError(f"only a finite count of turns can be said, not {exact}")
    counted = quarter_turns(exact)
    said = say_number(counted, "turns", book)
    if counted == round(exact, 2):
        return said
    return book.templates["rounded"].format(count=said, exact=say_number(exact, None, book))


def _say_quantity(meaning: Quantity | Called, book: PhraseBook) -> str:
    match meaning:
        case Quantity(value, unit):
            return say_number(value, unit, book)
        case Called(name, number):
            called, counted = say_choice(name, book), _say_quantity(number, book)
            return book.templates["called"].format(name=called, number=counted)


def _say_agreement(meaning: Agreement, book: PhraseBook) -> str:
    verdict = book.words[Word.YES if meaning.agrees else Word.NO]
    return book.templates["verdict"].format(
        role=book.roles[meaning.role][0].spoken, verdict=verdict[-1].spoken
    )


def _say_lit(names: tuple[str, ...], book: PhraseBook) -> str:
    if not names:
        return book.templates["no-lamp-lit"]
    lamps = _say_list([say_choice(name, book) for name in names], book)
    return book.templates["lamps-lit"].format(lamps=lamps)


def say_meaning(meaning: Meaning, book: PhraseBook | None = None) -> str:
    """Say what was understood.

    >>> say_meaning(Correction(ContactStates.of({1: ContactState.OPEN})))
    'wrong, one open'
    >>> say_meaning(Called("mark", Quantity(4.5, "turns")))
    'mark, four and a half turns'
    >>> say_meaning(Lit(("open lamp", "closed lamp")))
    'open lamp and closed lamp lit'
    >>> say_meaning(Agreement("checker", agrees=True))
    'checker, correct'
    """
    book = book or english()
    match meaning:
        case Command(word):
            return book.words[word][0].spoken
        case ContactStates():
            return say_reading(meaning.mapping(), book)
        case ShaftTurn(rotation):
            return book.rotations[rotation][0].spoken
        case Quantity() | Called():
            return _say_quantity(meaning, book)
        case Lit(names):
            return _say_lit(names, book)
        case Agreement():
            return _say_agreement(meaning, book)
        case Choice(name):
            return say_choice(name, book)
        case Spelling(text):
            return spell(text, book)
        case Correction(answer):
            wrong = book.correction[0].spoken
            return book.templates["correction"].format(
                wrong=wrong, answer=say_meaning(answer, book)
            )
