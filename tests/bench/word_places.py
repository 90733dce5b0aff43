"""Where a word has to be told from others: questions of the shipped procedures, and rival words.

A place is a question with what can be said to it word by word: single-word answers, the canonical
phrases, and commands. A rivalry sets two or more ways to say the same side by side, each under the
grammar of a phrase book that has this way only, so that a way is not heard by the help of another.
"""

from __future__ import annotations

import copy
import functools
import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import resources
from typing import Any

import yaml

from assistant.language.answers import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDigits,
    AskDone,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
    confirming,
    grammar,
)
from assistant.language.commands import GLOBAL_WORDS
from assistant.language.grammar import Grammar
from assistant.language.meaning import Word
from assistant.language.phrase_book import PhraseBook
from tests.bench.phrases import CHANGE, FIRST, LAMPS, SECOND, STROKE
from tests.bench.replies import BOOK, replies

__all__ = ["RIVALRIES", "Place", "Rivalry", "Way", "book_with", "places"]

ALL_CONTACTS = AskContacts(tuple(range(1, 17)))


@dataclass(frozen=True, slots=True)
class Place:
    """A question, and what is said to it.

    Args:
        name: of the question, in words.
        grammar: what may be said there.
        texts: what is said, each by itself.
    """

    name: str
    grammar: Grammar
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One way to say something.

    Args:
        name: the words that make the difference.
        said: each text with the grammar under which it is heard; those of the ways of a rivalry
            mean the same one by one.
    """

    name: str
    said: tuple[tuple[Grammar, str], ...]


@dataclass(frozen=True, slots=True)
class Rivalry:
    """Ways to say the same; the first is what the program teaches."""

    name: str
    ways: tuple[Way, ...]


def book_with(changes: Mapping[tuple[str | int, ...], Any]) -> PhraseBook:
    """The English phrase book with other words at some places.

    Args:
        changes: from the keys that lead to a place to what stands there instead.
    """
    data = copy.deepcopy(_english())
    for path, value in changes.items():
        *way, last = path
        within = functools.reduce(lambda at, key: at[key], way, data)
        within[last] = value
    return PhraseBook.from_data(data)


@functools.cache
def _english() -> Any:
    text = resources.files("assistant.language").joinpath("english.yaml").read_text("utf-8")
    return yaml.safe_load(text)


def _phrases(words: Sequence[Word], most: int | None = None) -> Iterator[str]:
    for word in words:
        yield from (phrase.spoken for phrase in BOOK.words[word][:most])


def places() -> Iterator[Place]:
    """Every kind of question of the shipped procedures, each choice that they offer apart."""
    every, first = tuple(_phrases(GLOBAL_WORDS)), tuple(_phrases(GLOBAL_WORDS, 1))
    answers = tuple(_phrases((Word.YES, Word.NO)))
    yield _place("done", AskDone(), ("done", *every))
    yield _place("yes or no", AskYesNo(), (*answers, *every))
    yield _place("mark", AskMark(), ("mark",))
    turns = tuple(phrase.spoken for said in BOOK.rotations.values() for phrase in said)
    yield _place("rotation", AskRotation(), turns)
    for choices in _choices():
        said = grammar(AskChoice(choices), BOOK).rules[0].examples
        yield _place(f"choice of {', '.join(said)}", AskChoice(choices), said)
    yield _place("contacts 1 to 4", FIRST, _pairs((1, 2, 3, 4)))
    yield _place("contacts 5 to 8", SECOND, _pairs((5, 6, 7, 8)))
    yield _place("contacts 1 to 16", ALL_CONTACTS, tuple(_single(range(5, 17), 1)))
    yield _place("turns", STROKE, tuple(_counts()))
    marked = tuple(f"mark {text}" for text in _counts((2, 3, 5, 9, 13, 15, 30, 50)))
    yield _place("mark and turns", CHANGE, (*marked, "none"))
    digits = tuple(phrase.spoken for said in BOOK.digits for phrase in said)
    yield _place("single digits", AskSpelling(), digits)
    lit = ("open lamp", "closed lamp", "both lamps lit", "both lamps dark", "red", "green")
    yield _place("lamps", LAMPS, lit)
    yield _place("agreement", AskAgreement("checker"), ("checker correct", "checker wrong"))
    back = (*answers, "wrong one open", "wrong one closed", *first)
    yield Place("contacts read back", confirming(FIRST, BOOK), back)


def _place(name: str, question: Question, texts: tuple[str, ...]) -> Place:
    return Place(name, grammar(question, BOOK), texts)


def _choices() -> Iterator[tuple[str, ...]]:
    questions = dict.fromkeys(said.question for said in replies())
    yield from (asked.choices for asked in questions if isinstance(asked, AskChoice))


def _single(contacts: Sequence[int], states: int = 2) -> Iterator[str]:
    for contact, state in itertools.product(contacts, list(BOOK.states.values())[:states]):
        yield f"{BOOK.numbers[contact][0].spoken} {state[0].spoken}"


def _pairs(contacts: tuple[int, int, int, int]) -> tuple[str, ...]:
    """Each contact in each state, pairs of them, and all."""
    one, two, three, four = (BOOK.numbers[contact][0].spoken for contact in contacts)
    states = [state[0].spoken for state in BOOK.states.values()]
    pairs = [f"{pair} {state}" for pair in (f"{one} and {two}", f"{three} and {four}")
             for state in states]  # fmt: skip
    return (*_single(contacts), *pairs, *(f"all four {state}" for state in states))


def _counts(numbers: Sequence[int] = (*range(1, 21), *range(30, 100, 10))) -> Iterator[str]:
    for number in numbers:
        yield f"{BOOK.numbers[number][0].spoken} {'turn' if number == 1 else 'turns'}"


def _everywhere(word: Word, phrase: str) -> Way:
    """A command, at two kinds of questions."""
    book = book_with({("words", word.value): [phrase]})
    asked = (AskDone(), FIRST)
    return Way(phrase, tuple((grammar(question, book), phrase) for question in asked))


def _verdict(word: Word, phrase: str) -> Way:
    """Yes or no, to a question and to a read-back."""
    changes: dict[tuple[str | int, ...], Any] = {("words", word.value): [phrase]}
    if word is Word.NO:
        changes["correction",] = [phrase]
    book = book_with(changes)
    return Way(phrase, ((grammar(AskYesNo(), book), phrase), (confirming(FIRST, book), phrase)))


def _answer(word: Word, question: Question, phrase: str) -> Way:
    book = book_with({("words", word.value): [phrase]})
    return Way(phrase, ((grammar(question, book), phrase),))


def _choice(*names: str) -> Way:
    under = grammar(AskChoice(names), BOOK)
    return Way(" or ".join(names), tuple((under, name) for name in names))


def _shut(word: str) -> Way:
    under = grammar(FIRST, book_with({("states", "closed"): [word]}))
    texts = (
        f"one {word}", "two open", f"three {word}", f"one and two {word}",
        f"one and two {word} three and four open", f"all four {word}",
    )  # fmt: skip
    return Way(f"open or {word}", tuple((under, text) for text in texts))


def _turning(clockwise: str, counterclockwise: str) -> Way:
    changes: dict[tuple[str | int, ...], Any] = {
        ("rotations", "clockwise"): [clockwise],
        ("rotations", "counterclockwise"): [counterclockwise],
    }
    under = grammar(AskRotation(), book_with(changes))
    return Way(
        f"{clockwise} or {counterclockwise}", ((under, clockwise), (under, counterclockwise))
    )


def _five_nine(five: str, nine: str) -> Way:
    """Under the grammars as shipped, which know both ways."""
    asked: tuple[tuple[Question, str], ...] = (
        (STROKE, "{} turns"),
        (CHANGE, "mark {} turns"),
        (ALL_CONTACTS, "{} closed"),
        (AskSpelling(), "kilo foxtrot zero {}"),
    )
    said = ((grammar(one, BOOK), text.format(word)) for one, text in asked for word in (five, nine))
    return Way(f"{five} or {nine}", tuple(said))


def _teens(name: str, question: Question, *texts: str) -> Way:
    return Way(name, tuple((grammar(question, BOOK), text) for text in texts))


RIVALRIES = (
    Rivalry("state of a contact", (_shut("closed"), _shut("shut"))),
    Rivalry("shaft locked in", (_choice("locked", "free"), _choice("locked", "moved"))),
    Rivalry("rod", (_choice("engaged", "disengaged"), _choice("engaged", "released"))),
    Rivalry(
        "rotation",
        (
            _turning("clockwise", "counterclockwise"),
            _turning("clockwise", "anticlockwise"),
            _turning("right", "left"),
        ),
    ),
    Rivalry("five and nine", (_five_nine("five", "nine"), _five_nine("fife", "niner"))),
    Rivalry(
        "teens and tens",
        (
            _teens("fifteen turns", STROKE,
                   "fifteen turns", "fifty turns", "sixteen turns", "sixty turns"),
            _teens("fifteen", STROKE, "fifteen", "fifty", "sixteen", "sixty"),
            _teens("one five", AskDigits(AskNumber("turns", most=99)),
                   "one five", "five zero", "one six", "six zero"),
        ),
    ),
    Rivalry(
        "yes",
        tuple(_verdict(Word.YES, one)
              for one in ("correct", "yes", "affirmative", "that is correct")),
    ),
    Rivalry("no", tuple(_verdict(Word.NO, one) for one in ("wrong", "no", "negative"))),
    Rivalry(
        "done", tuple(_answer(Word.DONE, AskDone(), one) for one in ("done", "next"))
    ),
    Rivalry(
        "mark",
        tuple(_answer(Word.MARK, AskMark(), one) for one in ("mark", "mark now")),
    ),
    Rivalry(
        "hold",
        tuple(_everywhere(Word.HOLD, one) for one in ("hold", "stop", "hold the job")),
    ),
    Rivalry(
        "go back",
        tuple(_everywhere(Word.GO_BACK, one) for one in ("go back", "previous step")),
    ),
)  # fmt: skip
"""What the writer of a phrase book could have chosen."""
