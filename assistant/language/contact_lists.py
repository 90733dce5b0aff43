"""Lists of contact states: "one and two closed, three open", "three closed, the others open".

A list is one or more groups; a group names contacts in ascending order and then their state. What
the graph cannot check, the interpreter does: a contact named twice, or a range over a contact that
was not asked, makes the reply not understood. Where "to" may mean "through" as well as "two", and
both make sense, the reply is not understood either.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator

from assistant.language.grammar import Expression, Many, Maybe, OneOf, Rule, Sequence, SomeOf, Tag
from assistant.language.meaning import ContactStates, Correction, Meaning
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of
from assistant.language.speaking import say_contacts, say_reading
from assistant.trade.contacts import ContactState

__all__ = ["contact_states", "none_of_them"]


_FEWEST_WITH_OTHERS = 4
"""Of fewer contacts nobody says "the others"."""


class _Mark(enum.Enum):
    RANGE = enum.auto()
    ALL = enum.auto()
    OTHERS = enum.auto()


def contact_states(contacts: tuple[int, ...], book: PhraseBook) -> Rule:
    """The states of some or all of the contacts, which are given in ascending order."""
    return Rule(
        name="contact states",
        expression=OneOf(_groups(contacts, book), *_at_once(contacts, book)),
        interpret=lambda tags: _states(tags, contacts),
        examples=tuple(_examples(contacts, book)),
    )


def none_of_them(contacts: tuple[int, ...], book: PhraseBook) -> Rule:
    """That none of the contacts is so: at a read-back, it puts all of them right.

    "No one is open" may also be a correction, "no, one is open". It then has two meanings, and so
    is not understood.
    """
    return Rule(
        name="no contact",
        expression=Sequence(any_of(book.lists.none), any_of(book.lists.is_), _states_of(book)),
        interpret=lambda tags: _none_is(tags, contacts),
    )


def _none_is(tags: tuple[Tag, ...], contacts: tuple[int, ...]) -> Meaning | None:
    match tags:
        case [ContactState() as state]:
            return Correction(ContactStates.of(dict.fromkeys(contacts, state.other)))
    return None


def _groups(contacts: tuple[int, ...], book: PhraseBook) -> Expression:
    group = _group(contacts, book)
    and_ = Maybe(any_of(book.lists.and_))
    listed = Sequence(group, Many(Sequence(and_, group), 0, len(contacts) - 1))
    if len(contacts) < _FEWEST_WITH_OTHERS:
        return listed
    others = Sequence(and_, any_of(book.lists.others, _Mark.OTHERS), _state(book))
    return Sequence(listed, Maybe(others))


def _group(contacts: tuple[int, ...], book: PhraseBook) -> Expression:
    link = OneOf(any_of(book.lists.and_), any_of(book.lists.through, _Mark.RANGE, typed="-"))
    contact = Maybe(any_of(book.lists.contact))
    numbers = SomeOf(
        *(any_of(book.numbers[number], number) for number in contacts),
        between=Sequence(Maybe(link), contact),
    )
    return Sequence(contact, numbers, _state(book))


def _state(book: PhraseBook) -> Expression:
    return Sequence(Maybe(any_of(book.lists.is_)), _states_of(book))


def _states_of(book: PhraseBook) -> Expression:
    return OneOf(*(any_of(book.states[state], state) for state in ContactState))


def _at_once(contacts: tuple[int, ...], book: PhraseBook) -> Iterator[Expression]:
    """Ways to give one state for everything that was asked."""
    contact = Maybe(any_of(book.lists.contact))
    if len(contacts) == 1:
        yield _state(book)
    if len(contacts) == 2:
        yield Sequence(any_of(book.lists.both, _Mark.ALL), contact, _state(book))
    if len(contacts) >= 2:
        count = Maybe(any_of(book.numbers[len(contacts)])) if len(contacts) > 2 else Sequence()
        yield Sequence(any_of(book.lists.all_, _Mark.ALL), count, contact, _state(book))


def _states(tags: tuple[Tag, ...], asked: tuple[int, ...]) -> Meaning | None:
    states: dict[int, ContactState] = {}
    group: list[Tag] = []
    for tag in tags:
        if not isinstance(tag, ContactState):
            group.append(tag)
            continue
        numbers = _numbers(group, asked)
        if group == [_Mark.OTHERS]:
            numbers = tuple(contact for contact in asked if contact not in states) or None
        if numbers is None or not states.keys().isdisjoint(numbers):
            return None
        states.update(dict.fromkeys(numbers, tag))
        group.clear()
    return ContactStates.of(states)


def _numbers(group: list[Tag], asked: tuple[int, ...]) -> tuple[int, ...] | None:
    """The contacts that a group names; None for a chain of ranges or one over others' contacts."""
    if group in ([], [_Mark.ALL]):
        return asked
    numbers: list[int] = []
    first = 0
    ended_range = False
    for tag in group:
        if tag is _Mark.RANGE:
            if ended_range:
                return None
            first = numbers[-1] + 1
        elif isinstance(tag, int):
            ended_range = first > 0
            numbers.extend(range(first or tag, tag + 1))
            first = 0
    return tuple(numbers) if set(numbers) <= set(asked) else None


def _examples(contacts: tuple[int, ...], book: PhraseBook) -> Iterator[str]:
    closed, open_ = (
        book.states[state][0].spoken for state in (ContactState.CLOSED, ContactState.OPEN)
    )
    if len(contacts) == 1:
        yield from (closed, open_)
        return
    few = contacts[:4]
    half = len(few) // 2
    yield say_reading(
        dict.fromkeys(few[:half], ContactState.CLOSED)
        | dict.fromkeys(few[half:], ContactState.OPEN),
        book,
    )
    if len(few) > 2 and few[-1] - few[0] == len(few) - 1:
        first, last = (say_contacts((end,), book) for end in (few[0], few[-1]))
        yield f"{first} {book.lists.through[0].spoken} {last} {open_}"
    yield f"{_all_of(contacts, book)} {closed}"


def _all_of(contacts: tuple[int, ...], book: PhraseBook) -> str:
    if len(contacts) == 2:
        return book.lists.both[0].spoken
    return f"{book.lists.all_[0].spoken} {book.numbers[len(contacts)][0].spoken}"
