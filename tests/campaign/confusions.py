"""What a reply can be taken for: the most plausible confusions of a recogniser, by sound.

Chosen by what sounds alike or is one word long (common practice and this project's benchmark, no
source): open and closed, a contact's number for another, five and nine, fifteen and fifty, a half
that is lost or added, "none" and "nine", yes and no, one choice for the other, and any answer for
one of the short commands.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    ContactStates,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.questions import AskChoice, AskLamps, AskNumber
from assistant.session.effects import Listen

__all__ = ["COMMANDS", "Confusion", "confusions_of"]

COMMANDS = (Word.GO_BACK, Word.HOLD, Word.SKIP, Word.NOTE)
"""Commands of one or few words that do something."""

ALIKE = ((5, 9), (2, 10), (4, 5), (7, 11), *((ones + 10, ones * 10) for ones in range(3, 10)))
"""Whole numbers that sound alike."""

WITH_TENS = range(20, 100, 10)


@dataclass(frozen=True, slots=True)
class Confusion:
    """One reply taken for another one that could be said there.

    Args:
        what: what was taken for what, as a row of the table.
        heard: the meaning that was taken.
    """

    what: str
    heard: Meaning


def confusions_of(said: Meaning, listen: Listen) -> Iterator[Confusion]:
    """What a reply can be taken for at this question; never for itself."""
    for confusion in (*_of_answer(said, listen), *_of_command()):
        if confusion.heard != said:
            yield confusion


def _of_command() -> Iterator[Confusion]:
    for word in COMMANDS:
        yield Confusion("a command for an answer", Command(word))


def _of_answer(said: Meaning, listen: Listen) -> Iterator[Confusion]:
    match said:
        case ContactStates():
            yield from _of_contacts(said)
        case Lit():
            yield from _of_lamps(said, listen)
        case Quantity() | Called():
            yield from _of_number(said, listen)
        case Choice():
            yield from _of_choice(listen)
        case Command():
            yield from _of_word(said, listen)
        case _:
            yield from _of_other(said)


def _of_other(said: Meaning) -> Iterator[Confusion]:
    match said:
        case ShaftTurn(rotation):
            yield Confusion("clockwise, counterclockwise", ShaftTurn(rotation.opposite))
        case Spelling(text):
            yield from (Confusion("a letter", Spelling(other)) for other in _spellings(text))
        case Agreement(role, agrees):
            yield Confusion("the checker's verdict", Agreement(role, not agrees))


def _of_number(said: Quantity | Called, listen: Listen) -> Iterator[Confusion]:
    number = said.number if isinstance(said, Called) else said
    for value in _numbers(number.value):
        other = replace(number, value=value)
        heard = replace(said, number=other) if isinstance(said, Called) else other
        yield Confusion("a number for another", heard)
    if isinstance(listen.question, AskNumber) and isinstance(said, Called):
        for word in listen.question.called:
            yield Confusion("mark, end, none", replace(said, name=word))
        for word in listen.question.instead:
            yield Confusion("mark, end, none", Choice(word))


def _of_choice(listen: Listen) -> Iterator[Confusion]:
    match listen.question:
        case AskNumber(unit, called):
            for word in called:
                yield Confusion("mark, end, none", Called(word, Quantity(9.0, unit)))
        case AskChoice(choices):
            for name in choices:
                yield Confusion("a choice for another", Choice(name))


def _of_lamps(said: Lit, listen: Listen) -> Iterator[Confusion]:
    if isinstance(listen.question, AskLamps):
        names = tuple(name for name, _ in listen.question.lamps)
        for odd in names:
            lit = tuple(name for name in names if (name in said.names) is not (name == odd))
            yield Confusion("lamps", Lit(lit))


def _of_word(said: Command, listen: Listen) -> Iterator[Confusion]:
    if said.word in (Word.YES, Word.NO):
        what = "yes, no" if listen.read_back is None else "correct, wrong, at a read-back"
        yield Confusion(what, Command(Word.NO if said.word is Word.YES else Word.YES))


def _of_contacts(said: ContactStates) -> Iterator[Confusion]:
    states = said.mapping()
    for contact, state in states.items():
        yield Confusion("open, closed", ContactStates.of(states | {contact: state.other}))
    opposite = {contact: state.other for contact, state in states.items()}
    yield Confusion("open, closed, of all", ContactStates.of(opposite))
    for one, two in itertools.combinations(states, 2):
        if states[one] is not states[two]:
            swapped = states | {one: states[two], two: states[one]}
            yield Confusion("a contact for another", ContactStates.of(swapped))
    if len(states) > 1:
        last = max(states)
        heard = {contact: state for contact, state in states.items() if contact != last}
        yield Confusion("a part not heard", ContactStates.of(heard))


def _numbers(value: float) -> Iterator[float]:
    """Numbers that sound like this one; the quarters are heard as they were said, or lost."""
    whole, part = divmod(value, 1)
    for one, two in ALIKE:
        if whole in (one, two):
            yield (two if whole == one else one) + part
    for tens in WITH_TENS:
        if whole - tens in (5, 9):
            yield tens + (9 if whole - tens == 5 else 5) + part
    yield whole if part else whole + 0.5


def _spellings(text: str) -> Iterator[str]:
    for at, character in enumerate(text):
        if character in "59":
            yield f"{text[:at]}{'9' if character == '5' else '5'}{text[at + 1 :]}"
    yield text[:-1] or "A"
    yield f"{'B' if text[0] == 'D' else 'D'}{text[1:]}"
