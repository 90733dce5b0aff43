"""Which lamps are lit: "open lamp", "green and red", "both", "none"."""

from __future__ import annotations

import enum
from collections import Counter
from collections.abc import Iterator

from assistant.language.choices import choice_terms
from assistant.language.grammar import Expression, Many, Maybe, OneOf, Rule, Sequence, Tag, Term
from assistant.language.meaning import Lit, Meaning
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of
from assistant.language.speaking import say_choice

__all__ = ["lamps_lit"]


class _Mark(enum.Enum):
    ALL = enum.auto()
    NONE = enum.auto()


def lamps_lit(lamps: tuple[tuple[str, str], ...], book: PhraseBook) -> Rule:
    """The lamps that are lit, by name or by colour; whatever is not named is dark.

    Args:
        lamps: name and colour of each; a colour that two lamps have names neither.
        book: the phrase book.

    Raises:
        ValueError: if a name or a colour has no words, or the words of another one, of a command
            or of what else answers.
    """
    names = tuple(name for name, _ in lamps)
    return Rule(
        name="lamps",
        expression=OneOf(_listed(lamps, book), *_at_once(len(lamps), book)),
        interpret=lambda tags: _lit(tags, names),
        examples=tuple(_examples(names, book)),
    )


def _listed(lamps: tuple[tuple[str, str], ...], book: PhraseBook) -> Expression:
    lamp = _named(lamps, book)
    following = Sequence(Maybe(any_of(book.lists.and_)), lamp)
    only, lit = Maybe(any_of(book.lamps.only)), Maybe(any_of(book.lamps.lit))
    return Sequence(only, lamp, Many(following, 0, len(lamps) - 1), only, lit)


def _named(lamps: tuple[tuple[str, str], ...], book: PhraseBook) -> Expression:
    """A lamp by its name or, where it is the only one of that colour, by its colour."""
    names = {name: name for name, _ in lamps}
    count = Counter(colour for _, colour in lamps)
    colours = {colour: name for name, colour in lamps if count[colour] == 1 and colour not in names}
    listed = tuple(name for name, _ in lamps)
    terms = choice_terms((*listed, *colours), book, "lamp", dict(_taken(book)))
    by_name, by_colour = terms[: len(listed)], terms[len(listed) :]
    coloured = OneOf(*(Term(t.spoken, t.spellings, colours[str(t.tag)]) for t in by_colour))
    if not by_colour:
        return OneOf(*by_name)
    return OneOf(*by_name, Sequence(coloured, Maybe(any_of(book.lamps.lamp))))


def _taken(book: PhraseBook) -> Iterator[tuple[str, str]]:
    own = (*book.lamps.lamp, *book.lamps.lit, *book.lamps.dark, *book.lamps.only, *book.lamps.none)
    for phrase in (*own, *book.lists.both, *book.lists.all_, *book.lists.and_):
        yield phrase.spoken, f"the answer '{phrase.spoken}'"


def _at_once(count: int, book: PhraseBook) -> Iterator[Expression]:
    """Ways to tell of all lamps together."""
    lamps, lit = Maybe(any_of(book.lamps.lamp)), any_of(book.lamps.lit)
    yield Sequence(any_of(book.lamps.none, _Mark.NONE), Maybe(lit))
    state = Maybe(OneOf(lit, any_of(book.lamps.dark, _Mark.NONE)))
    for together in (book.lists.all_, *([book.lists.both] if count == 2 else [])):
        yield Sequence(any_of(together, _Mark.ALL), lamps, state)
    if count == 1:
        yield OneOf(any_of(book.lamps.lit, _Mark.ALL), any_of(book.lamps.dark, _Mark.NONE))


def _lit(tags: tuple[Tag, ...], names: tuple[str, ...]) -> Meaning | None:
    match tags:
        case (*_, _Mark.NONE):
            return Lit(())
        case (_Mark.ALL,):
            return Lit(names)
    if len(set(tags)) < len(tags):
        return None  # a lamp named twice: another one was meant
    return Lit(tuple(name for name in names if name in tags))


def _examples(names: tuple[str, ...], book: PhraseBook) -> Iterator[str]:
    """Of several words where there are any, for a single short word is easily lost in noise."""
    yield say_choice(names[0], book)
    if len(names) == 2:
        yield f"{book.lists.both[0].spoken} {book.lamps.lit[0].spoken}"
    yield f"{book.lists.all_[0].spoken} {book.lamps.dark[0].spoken}"
