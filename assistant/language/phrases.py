"""Phrases, and reading them from the plain data of a phrase book.

Every error names the place in the data and what would be right.
"""

from __future__ import annotations

import difflib
import string
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from assistant.language.grammar import Expression, OneOf, Tag, Term, words_of

__all__ = [
    "Entries",
    "Path",
    "Phrase",
    "PhraseBookError",
    "Phrases",
    "any_of",
    "phrases_at",
    "template_at",
]

Path = tuple[str | int, ...]


class PhraseBookError(ValueError):
    """The data of a phrase book is wrong.

    Args:
        path: the keys and list positions (from 0) that lead to the place.
        message: what is wrong there and what would be right.
    """

    def __init__(self, path: Path, message: str) -> None:
        self.path = path
        self.message = message
        where = "".join(f"[{at}]" if isinstance(at, int) else f".{at}" for at in path)
        super().__init__(f"{where.lstrip('.') or 'phrase book'}: {message}")


@dataclass(frozen=True, slots=True)
class Phrase:
    """Something to say: its words, and other spellings of the same sound."""

    spoken: str
    spellings: tuple[str, ...] = ()

    def term(self, tag: Tag | None = None, typed: str = "") -> Term:
        """The phrase as an atom of a grammar."""
        return Term(self.spoken, self.spellings, tag, typed)


Phrases = tuple[Phrase, ...]
"""Several ways to say one thing; the first is the one that the program says."""


def any_of(phrases: Phrases, tag: Tag | None = None, typed: str = "") -> Expression:
    """Any of the phrases; `typed` stands for the first."""
    first, *others = phrases
    return OneOf(first.term(tag, typed), *(other.term(tag) for other in others))


class Entries:
    """The entries of a mapping, taken one by one; `finish` refuses what was not taken."""

    def __init__(self, data: Any, path: Path = ()) -> None:
        if not isinstance(data, Mapping):
            raise PhraseBookError(path, f"must be a mapping of keys to values, not {data!r}")
        for key in data:
            if not isinstance(key, str):
                raise PhraseBookError(
                    path, f'the key {key!r} is no text: put quotes round it ("no")'
                )
        self._left = dict(data)
        self._known: list[str] = []
        self.path = path

    def take(self, key: str) -> Any:
        """The value of a key that must be there."""
        self._known.append(key)
        if key not in self._left:
            raise PhraseBookError(self.path, f"the key '{key}' is missing: add it")
        return self._left.pop(key)

    def within(self, key: str) -> Entries:
        """The entries of the mapping at a key that must be there."""
        return Entries(self.take(key), (*self.path, key))

    def phrases(self, key: str) -> Phrases:
        """The phrases at a key that must be there."""
        return phrases_at(self.take(key), (*self.path, key))

    def optional(self, keys: Iterable[str]) -> dict[str, Phrases]:
        """The phrases at those of the keys that are there."""
        keys = list(keys)
        found = {key: self.phrases(key) for key in keys if key in self._left}
        self._known.extend(keys)
        return found

    def finish(self) -> None:
        """Refuse keys that nobody asked for."""
        for key in self._left:
            close = difflib.get_close_matches(key, self._known, n=1)
            hint = f"did you mean '{close[0]}'?" if close else "remove it"
            raise PhraseBookError((*self.path, key), f"unknown key: {hint}")


def phrases_at(data: Any, path: Path) -> Phrases:
    """Read a list of one or more phrases."""
    if not isinstance(data, list | tuple) or not data:
        raise PhraseBookError(path, f"must be a list of one or more phrases, not {data!r}")
    return tuple(phrase_at(entry, (*path, at)) for at, entry in enumerate(data))


def phrase_at(data: Any, path: Path) -> Phrase:
    """Read one phrase: text, or a mapping of ``say`` and ``written``."""
    if not isinstance(data, Mapping):
        return Phrase(_spoken(data, path))
    entries = Entries(data, path)
    spoken = _spoken(entries.take("say"), (*path, "say"))
    written = entries.take("written")
    entries.finish()
    if not isinstance(written, list | tuple):
        raise PhraseBookError((*path, "written"), f"must be a list of spellings, not {written!r}")
    return Phrase(
        spoken,
        tuple(_spoken(spelling, (*path, "written", at)) for at, spelling in enumerate(written)),
    )


def _spoken(data: Any, path: Path) -> str:
    if not isinstance(data, str):
        raise PhraseBookError(path, f'must be text, not {data!r}: put quotes round it ("no")')
    normal = " ".join(words_of(data))
    if not normal:
        raise PhraseBookError(path, f"{data!r} holds no words: write what is said")
    if normal != data:
        raise PhraseBookError(path, f"write '{data}' as it is said, in lower case: '{normal}'")
    return data


def template_at(data: Any, path: Path, fields: frozenset[str]) -> str:
    """Read a sentence with each of the fields in braces, and no others."""
    wanted = ", ".join(f"{{{name}}}" for name in sorted(fields)) or "no field in braces"
    if not isinstance(data, str):
        raise PhraseBookError(path, f"must be text with {wanted}, not {data!r}")
    try:
        parsed = list(string.Formatter().parse(data))
    except ValueError as error:
        raise PhraseBookError(path, f"must be text with {wanted}: {error}") from error
    found = [name for _, name, form, conversion in parsed if name is not None]
    plain = all(not form and not conversion for _, _, form, conversion in parsed)
    if set(found) != fields or len(found) != len(fields) or not plain:
        raise PhraseBookError(path, f"must be text with {wanted}, each once, not {data!r}")
    return data
