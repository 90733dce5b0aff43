"""The phrase book of one language: every word that may be said, and how values are said back.

A phrase book is data. Another language is another data file; grammars, help and spoken texts
follow from it.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, TypeVar

from assistant.language.grammar import words_of
from assistant.language.meaning import Word
from assistant.language.phrases import (
    Entries,
    Path,
    Phrase,
    PhraseBookError,
    Phrases,
    phrase_at,
    template_at,
)
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

__all__ = [
    "FractionWords",
    "LampWords",
    "ListWords",
    "PhraseBook",
    "PhraseBookError",
    "UnitWords",
]

LARGEST_NUMBER = 99
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_ROLES = ("technician", "checker")
_FRACTION_SIGNS = {"0.5": "½", "0.25": "¼", "0.75": "¾"}
_TEMPLATES: Mapping[str, frozenset[str]] = {
    "list": frozenset({"first", "next"}),
    "list-end": frozenset({"first", "last"}),
    "reading": frozenset({"contacts", "state"}),
    "quantity": frozenset({"number", "unit"}),
    "mixed": frozenset({"whole", "part"}),
    "decimal": frozenset({"whole", "point", "digits"}),
    "minus": frozenset({"number"}),
    "hundreds": frozenset({"count"}),
    "hundreds-and": frozenset({"count", "rest"}),
    "thousands": frozenset({"count"}),
    "thousands-and": frozenset({"count", "rest"}),
    "thousands-more": frozenset({"count", "rest"}),
    "correction": frozenset({"wrong", "answer"}),
    "called": frozenset({"name", "number"}),
    "verdict": frozenset({"role", "verdict"}),
    "lamps-lit": frozenset({"lamps"}),
    "no-lamp-lit": frozenset(),
    "rounded": frozenset({"count", "exact"}),
    "help": frozenset({"examples"}),
    "help-or": frozenset(),
}

Member = TypeVar("Member", bound=enum.StrEnum)


@dataclass(frozen=True, slots=True)
class ListWords:
    """The words that hold lists of contacts together."""

    contact: Phrases
    is_: Phrases
    and_: Phrases
    through: Phrases
    both: Phrases
    all_: Phrases
    others: Phrases
    none: Phrases


@dataclass(frozen=True, slots=True)
class LampWords:
    """The words that go with the names and colours of lamps."""

    lamp: Phrases
    lit: Phrases
    dark: Phrases
    only: Phrases
    none: Phrases


@dataclass(frozen=True, slots=True)
class FractionWords:
    """The words for a part of one.

    Args:
        value: 0.25, 0.5 or 0.75.
        sign: the character for it.
        added: after a whole number ("and a half").
        alone: on its own ("one half").
        of_one: right before a unit ("half a").
    """

    value: float
    sign: str
    added: Phrases
    alone: Phrases
    of_one: Phrases


@dataclass(frozen=True, slots=True)
class UnitWords:
    """The words for a unit.

    Args:
        names: what procedures and unit sheets call it.
        one: its words after exactly one, or part of one.
        many: its words after any other number.
        parts: ``fractions`` or ``decimals``: how parts of the unit are told; ``none`` where it has
            none, as what is counted.
    """

    names: tuple[str, ...]
    one: Phrases
    many: Phrases
    parts: str

    @property
    def phrases(self) -> Phrases:
        """All its words."""
        return tuple(dict.fromkeys((*self.many, *self.one)))


# Compared by identity: a book is built once, and it is the key under which grammars are kept.
@dataclass(frozen=True, slots=True, eq=False)
class PhraseBook:
    """The words of one language.

    Args:
        words: for each fixed word.
        correction: what may stand before the right answer at a read-back.
        states: for each contact state.
        rotations: for each sense of rotation.
        lists: what holds lists of contacts together.
        lamps: what goes with the names of lamps.
        roles: for each role of a person in the job.
        at: what may stand between the word that calls a number and the number.
        numbers: for each number from 0 to 99.
        hundred: after the count of hundreds.
        one_hundred: one hundred without a count.
        digits: for each digit from 0 to 9, where digits are said one at a time.
        fractions: parts of one.
        point: the decimal point.
        units: the units of numbers.
        letters: for each letter from A to Z.
        dash: what may be said between letters and counts for nothing.
        templates: the sentences in which the program says values, with fields in braces.
    """

    words: Mapping[Word, Phrases]
    correction: Phrases
    states: Mapping[ContactState, Phrases]
    rotations: Mapping[Rotation, Phrases]
    lists: ListWords
    lamps: LampWords
    roles: Mapping[str, Phrases]
    at: Phrases
    hundred: Phrases
    one_hundred: Phrases
    numbers: tuple[Phrases, ...]
    digits: tuple[Phrases, ...]
    fractions: tuple[FractionWords, ...]
    point: Phrases
    units: tuple[UnitWords, ...]
    letters: Mapping[str, Phrases]
    dash: Phrases
    templates: Mapping[str, str]

    @classmethod
    def from_data(cls, data: Any) -> PhraseBook:
        """Build a phrase book from plain data, as a YAML file holds it.

        Args:
            data: mappings, lists and text; ``english.yaml`` is the example and the manual.

        Raises:
            PhraseBookError: for an unknown or missing key, a value of another type, a unit named
                twice, or the same words for two meanings.
        """
        entries = Entries(data)
        numbers = _numbers(entries)
        book = cls(
            words=_by_member(entries.within("words"), Word),
            correction=entries.phrases("correction"),
            states=_by_member(entries.within("states"), ContactState),
            rotations=_by_member(entries.within("rotations"), Rotation),
            lists=_list_words(entries.within("contact-lists")),
            lamps=_lamp_words(entries.within("lamps")),
            roles=_roles(entries.within("roles")),
            at=entries.phrases("at"),
            hundred=entries.phrases("hundred"),
            one_hundred=entries.phrases("one-hundred"),
            numbers=numbers,
            digits=_digits(entries, numbers),
            fractions=_fractions(entries.within("fractions")),
            point=entries.phrases("decimal-point"),
            units=_units(entries.take("units"), ("units",)),
            letters=_letters(entries.within("letters")),
            dash=entries.phrases("dash"),
            templates=_templates(entries.within("speaking")),
        )
        entries.finish()
        _refuse_double_meanings(book)
        _refuse_stray_corrections(book)
        return book

    def unit(self, name: str) -> UnitWords | None:
        """The unit that procedures call by this name, if the book has it."""
        return next((unit for unit in self.units if name in unit.names), None)


def _by_member(entries: Entries, members: type[Member]) -> Mapping[Member, Phrases]:
    found = {member: entries.phrases(member.value) for member in members}
    entries.finish()
    return MappingProxyType(found)


def _list_words(entries: Entries) -> ListWords:
    found = ListWords(
        contact=entries.phrases("contact"),
        is_=entries.phrases("is"),
        and_=entries.phrases("and"),
        through=entries.phrases("through"),
        both=entries.phrases("both"),
        all_=entries.phrases("all"),
        others=entries.phrases("others"),
        none=entries.phrases("none"),
    )
    entries.finish()
    return found


def _lamp_words(entries: Entries) -> LampWords:
    found = LampWords(
        lamp=entries.phrases("lamp"),
        lit=entries.phrases("lit"),
        dark=entries.phrases("dark"),
        only=entries.phrases("only"),
        none=entries.phrases("none"),
    )
    entries.finish()
    return found


def _roles(entries: Entries) -> Mapping[str, Phrases]:
    found = {role: entries.phrases(role) for role in _ROLES}
    entries.finish()
    return MappingProxyType(found)


def _numbers(entries: Entries) -> tuple[Phrases, ...]:
    listed = entries.take("numbers")
    if not isinstance(listed, list | tuple) or len(listed) != LARGEST_NUMBER + 1:
        raise PhraseBookError(("numbers",), "must list the numbers from 0 to 99, in order")
    others = _by_number(entries.within("other-numbers"), len(listed))
    return tuple(
        (_with_figures(phrase_at(entry, ("numbers", value)), value), *others.get(value, ()))
        for value, entry in enumerate(listed)
    )


def _with_figures(phrase: Phrase, value: int) -> Phrase:
    return Phrase(phrase.spoken, (*phrase.spellings, str(value)))


def _by_number(entries: Entries, count: int) -> dict[int, Phrases]:
    found = entries.optional(str(value) for value in range(count))
    entries.finish()
    return {int(key): phrases for key, phrases in found.items()}


def _digits(entries: Entries, numbers: tuple[Phrases, ...]) -> tuple[Phrases, ...]:
    others = _by_number(entries.within("other-digits"), 10)
    return tuple((*numbers[digit], *others.get(digit, ())) for digit in range(10))


def _fractions(entries: Entries) -> tuple[FractionWords, ...]:
    found = tuple(_fraction(entries.within(key), key) for key in _FRACTION_SIGNS)
    entries.finish()
    return found


def _fraction(entries: Entries, key: str) -> FractionWords:
    found = FractionWords(
        value=float(key),
        sign=_FRACTION_SIGNS[key],
        added=entries.phrases("added"),
        alone=entries.phrases("alone"),
        of_one=entries.phrases("of-one"),
    )
    entries.finish()
    return found


def _units(data: Any, path: Path) -> tuple[UnitWords, ...]:
    if not isinstance(data, list | tuple):
        raise PhraseBookError(path, f"must be a list of units, not {data!r}")
    units = tuple(_unit(Entries(entry, (*path, at))) for at, entry in enumerate(data))
    seen: set[str] = set()
    for at, unit in enumerate(units):
        for name in unit.names:
            if name in seen:
                raise PhraseBookError((*path, at, "names"), f"the unit '{name}' stands twice")
            seen.add(name)
    return units


def _unit(entries: Entries) -> UnitWords:
    names = entries.take("names")
    if not isinstance(names, list | tuple) or not names or not all(_is_name(n) for n in names):
        raise PhraseBookError((*entries.path, "names"), f"must be a list of names, not {names!r}")
    parts = entries.take("parts")
    if parts not in ("fractions", "decimals", "none"):
        message = f"must be 'fractions', 'decimals' or 'none', not {parts!r}"
        raise PhraseBookError((*entries.path, "parts"), message)
    unit = UnitWords(tuple(names), entries.phrases("one"), entries.phrases("many"), parts)
    entries.finish()
    return unit


def _is_name(value: Any) -> bool:
    return isinstance(value, str) and bool(value.strip())


def _letters(entries: Entries) -> Mapping[str, Phrases]:
    found = {letter: entries.phrases(letter) for letter in LETTERS}
    entries.finish()
    return MappingProxyType(found)


def _templates(entries: Entries) -> Mapping[str, str]:
    found = {
        name: template_at(entries.take(name), (*entries.path, name), fields)
        for name, fields in _TEMPLATES.items()
    }
    entries.finish()
    return MappingProxyType(found)


def _by_place(book: PhraseBook) -> Iterator[tuple[Path, Phrases]]:
    """Each meaning that the book has words for: where it stands, and the words."""
    yield from ((("words", word.value), said) for word, said in book.words.items())
    yield from ((("states", state.value), said) for state, said in book.states.items())
    yield from ((("rotations", turn.value), said) for turn, said in book.rotations.items())
    yield ("contact-lists", "contact"), book.lists.contact
    yield ("contact-lists", "is"), book.lists.is_
    yield ("contact-lists", "and"), book.lists.and_
    yield ("contact-lists", "through"), book.lists.through
    yield ("contact-lists", "both"), book.lists.both
    yield ("contact-lists", "all"), book.lists.all_
    yield ("contact-lists", "others"), book.lists.others
    yield ("contact-lists", "none"), book.lists.none
    for name in ("lamp", "lit", "dark", "only", "none"):
        yield ("lamps", name), getattr(book.lamps, name)
    yield from ((("roles", role), said) for role, said in book.roles.items())
    yield ("at",), book.at
    yield ("hundred",), book.hundred
    yield ("one-hundred",), book.one_hundred
    yield from ((("numbers", value), said) for value, said in enumerate(book.numbers))
    yield from ((("numbers", digit), said) for digit, said in enumerate(book.digits))
    for part in book.fractions:
        yield ("fractions", f"{part.value:g}"), (*part.added, *part.alone, *part.of_one)
    yield ("decimal-point",), book.point
    # A question has one unit, so two units may share a word ("turns" of a shaft, too).
    yield from ((("units",), unit.phrases) for unit in book.units)
    yield from ((("letters", letter), said) for letter, said in book.letters.items())
    yield ("dash",), book.dash


def _refuse_double_meanings(book: PhraseBook) -> None:
    """Refuse the same spoken words for two meanings, and within a section the same spelling.

    A spelling may also be the words of something else ("to" for "two"): a reply in which that
    makes two meanings is not understood, and asked again.
    """
    spoken: dict[tuple[str, ...], Path] = {}
    written: dict[tuple[str | int, tuple[str, ...]], Path] = {}
    for place, phrases in _by_place(book):
        for phrase in phrases:
            _refuse_second(spoken.setdefault(words_of(phrase.spoken), place), place, phrase.spoken)
            for form in (phrase.spoken, *phrase.spellings):
                first = written.setdefault((place[0], words_of(form)), place)
                _refuse_second(first, place, form)


def _refuse_second(first: Path, place: Path, form: str) -> None:
    if first != place:
        elsewhere = ", ".join(str(at) for at in first)
        raise PhraseBookError(place, f"'{form}' already has a meaning (in {elsewhere}): remove one")


def _refuse_stray_corrections(book: PhraseBook) -> None:
    known = {phrase.spoken for phrase in book.words[Word.NO]}
    for at, phrase in enumerate(book.correction):
        if phrase.spoken not in known:
            message = f"'{phrase.spoken}' must also stand under words, {Word.NO.value}"
            raise PhraseBookError(("correction", at), message)
