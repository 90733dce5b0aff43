"""The words in which a simulated technician says things: varied, as people do."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

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
from assistant.language.questions import AskDigits, Question
from assistant.trade.contacts import ContactState

__all__ = ["Phrasing"]

_DIGITS = (
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
)
_LETTERS = dict(
    zip(
        "ABCDEFGHIJKLMNOPQRSTUVWXYZ",
        (
            "alfa",
            "bravo",
            "charlie",
            "delta",
            "echo",
            "foxtrot",
            "golf",
            "hotel",
            "india",
            "juliett",
            "kilo",
            "lima",
            "mike",
            "november",
            "oscar",
            "papa",
            "quebec",
            "romeo",
            "sierra",
            "tango",
            "uniform",
            "victor",
            "whiskey",
            "xray",
            "yankee",
            "zulu",
        ),
        strict=True,
    )
)


_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_TEENS = ("seventeen", "eighteen", "nineteen")
_PARTS = ("zero", "a quarter of a", "half a", "three quarters of a")
_QUARTERS = ("", "a quarter", "a half", "three quarters")


def _count(value: int) -> str:
    """A whole number below 1000 in words."""
    hundreds, rest = divmod(value, 100)
    if hundreds:
        said = f"{_DIGITS[hundreds]} hundred"
        return f"{said} and {_count(rest)}" if rest else said
    if value < 20:
        return (*_DIGITS, *_TEENS)[value]
    tens, ones = divmod(value, 10)
    return f"{_TENS[tens]} {_DIGITS[ones]}" if ones else _TENS[tens]


class Phrasing:
    """Says the same thing in a different way each time, in a fixed order.

    These words are the technician's own: they are not taken from the phrase book, so that the
    program is tried on what it did not write itself.
    """

    def __init__(self) -> None:
        self._turn = itertools.count()

    def words(self, meaning: Meaning, question: Question | None) -> str:
        """What a person would say to mean this.

        Args:
            meaning: what is meant.
            question: what was asked; None while on hold or while words are kept.
        """
        match meaning:
            case ContactStates():
                return self.contacts(meaning.mapping())
            case Correction(ContactStates() as states):
                return f"wrong, {self.in_full(states.mapping())}"
            case Correction(answer):
                return f"wrong, {self.words(answer, question)}"
            case Command(Word.YES) if question is not None:
                return self.agreement()
            case Called(name, number) if isinstance(question, AskDigits):
                return f"{name.replace('-', ' ')} {self.digits(number)}"
            case Quantity() as number if isinstance(question, AskDigits):
                return self.digits(number)
        return self._in_a_word(meaning)

    def _in_a_word(self, meaning: Meaning) -> str:
        match meaning:
            case Command(word):
                return word.value.replace("-", " ")
            case ShaftTurn(rotation):
                return rotation.value
            case Choice(name):
                return name.replace("-", " ")
            case Spelling(text):
                return self.spelled(text)
            case Called(name, number):
                return f"{name.replace('-', ' ')} {self.number(number)}"
            case Quantity() as number:
                return self.number(number)
            case Lit(names):
                return self._lamps(names)
            case Agreement(role, agrees):
                return f"{role} {'correct' if agrees else 'wrong'}"
        raise ValueError(f"nobody says {meaning!r} on its own")

    def number(self, number: Quantity) -> str:
        """A number with its unit, quarters as people say them."""
        whole, part = divmod(round(number.value * 4), 4)
        words = _count(whole)
        if part:
            words = f"{words} and {_QUARTERS[part]}" if whole else _QUARTERS[part]
        unit = "turns" if number.unit == "revolutions" else number.unit
        if unit == "turns" and not whole:
            return f"{_PARTS[part]} turn"
        if unit == "turns" and whole == 1 and not part:
            unit = "turn"
        return f"{words} {unit or ''}".strip()

    def digits(self, number: Quantity) -> str:
        """A number digit by digit, quarters as people say them."""
        whole, part = divmod(round(number.value * 4), 4)
        told = " ".join(_DIGITS[int(digit)] for digit in str(whole))
        return f"{told} and {_QUARTERS[part]}" if part else told

    def _lamps(self, names: tuple[str, ...]) -> str:
        return " and ".join(names) if names else "none"

    def contacts(self, states: Mapping[int, ContactState]) -> str:
        """States of contacts; now and then only the first of them, as people do."""
        groups = _groups(states)
        if len(groups) == 1 and len(states) == 2:
            _, state = groups[0]
            numbers = " and ".join(_DIGITS[number] for number in states)
            return self._pick(f"both {state}", f"{numbers} are {state}")
        if len(groups) == 1 and len(states) == 4:
            first, last = min(states), max(states)
            _, state = groups[0]
            return self._pick(
                f"all four {state}", f"{_DIGITS[first]} through {_DIGITS[last]} {state}"
            )
        first_named, state = groups[0]
        return self._pick(
            self.in_full(states),
            f"{_listed(first_named)} are {state}",
            " ".join(f"{_DIGITS[number]} {state}" for number, state in states.items()),
            f"{_listed(first_named)} {state}",
        )

    def in_full(self, states: Mapping[int, ContactState]) -> str:
        """States of contacts, every one of them named."""
        return " ".join(f"{_listed(numbers)} {state}" for numbers, state in _groups(states))

    def spelled(self, text: str) -> str:
        """A tag, letter by letter and digit by digit."""
        return " ".join(
            _DIGITS[int(character)] if character.isdigit() else _LETTERS[character]
            for character in text.upper()
            if character.isalnum()
        )

    def agreement(self) -> str:
        """That what was read back is right."""
        return self._pick("correct", "yes")

    def _pick(self, *ways: str) -> str:
        return ways[next(self._turn) % len(ways)]


def _groups(states: Mapping[int, ContactState]) -> list[tuple[list[int], ContactState]]:
    """Runs of neighbours in the same state, in the order of the contacts."""
    runs: Iterator[tuple[ContactState, Iterator[int]]] = itertools.groupby(
        sorted(states), key=lambda number: states[number]
    )
    return [(list(numbers), state) for state, numbers in runs]


def _listed(numbers: list[int]) -> str:
    words = [_DIGITS[number] for number in numbers]
    return words[0] if len(words) == 1 else f"{' '.join(words[:-1])} and {words[-1]}"
