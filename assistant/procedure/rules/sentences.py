"""The sentences of a spoken text, and the pieces of which a sentence is put together."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from assistant.language.sentences import BETWEEN_SENTENCES

__all__ = ["Sentence", "phrase_in", "sentences_of"]

_END = re.compile(
    rf"{BETWEEN_SENTENCES.pattern}|(?:(?<=^)|(?<=[.?!] ))(\{{[^{{}}]*\}})\s+(?=[A-Z])"
)
_JOINTS = re.compile(r"[,;:]\s+(?:and then|and|or|then|but)?\s*|\s+(?:and then|and|or|then)\s+")

CONDITIONS = ("if", "when", "whenever", "unless", "in case", "provided", "as soon as")
"""With what a condition begins: something must be so, or must come to be so, before the action."""

_AHEAD = (
    *CONDITIONS,
    *("once", "after", "before", "while", "until", "during", "where", "as"),
    *("from", "at", "in", "on", "by", "with", "without", "to", "for", "using"),
)
_ALONE = "then|now|next|first|second|third|finally|also|please|checker|technician|[a-z]+ly"
_AHEAD_OF = re.compile(
    rf"(?:(?:{'|'.join(_AHEAD)})\b[^,]*|{_ALONE}),\s+(?:then\s+)?", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence, as it was written, names in braces.

    Args:
        text: with its full stop or question mark.
        clauses: what it is put together from; what stands ahead of the first comma to say when,
            where or to whom (*When it has stopped, …*, *Checker, …*) is left out.
    """

    text: str
    clauses: tuple[str, ...]

    @property
    def is_question(self) -> bool:
        """Whether it asks."""
        return self.text.endswith("?")


@lru_cache(maxsize=4096)
def sentences_of(text: str) -> tuple[Sentence, ...]:
    """The sentences of a text.

    A value that stands where a sentence begins, with a capital letter behind it, is taken for a
    sentence of its own.

    >>> [one.text for one in sentences_of("{fault} Look again. Did it move?")]
    ['{fault}', 'Look again.', 'Did it move?']
    >>> sentences_of("When it has stopped, open the cover and remove the plug.")[0].clauses
    ('open the cover', 'remove the plug')
    """
    pieces = [piece.strip() for piece in _END.split(text) if piece and piece.strip()]
    return tuple(Sentence(piece, _clauses(piece)) for piece in pieces)


def _clauses(sentence: str) -> tuple[str, ...]:
    bare = _AHEAD_OF.sub("", sentence.rstrip(".?!"), count=1) if _begins(sentence) else sentence
    return tuple(filter(None, (piece.strip(" .?!") for piece in _JOINTS.split(bare))))


def _begins(sentence: str) -> bool:
    return _AHEAD_OF.match(sentence) is not None


@lru_cache(maxsize=1024)
def _any_of(phrases: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(phrases, key=len, reverse=True)
    either = "|".join(re.escape(phrase).replace(r"\ ", r"\s+") for phrase in longest_first)
    return re.compile(rf"(?<![\w-])(?:{either})(?![\w-])", re.IGNORECASE)


def phrase_in(text: str, phrases: Iterable[str]) -> str | None:
    """The first of some words or phrases in a text, in lower case; None if there is none.

    >>> phrase_in("Open it as  required.", ["as required", "properly"])
    'as required'
    """
    wanted = tuple(phrases)
    found = _any_of(wanted).search(text) if wanted else None
    return " ".join(found[0].lower().split()) if found else None
