"""A grammar as a graph of word pieces: every way in which a model may write its sentences.

A model trained on written text writes cased and punctuated text, and often digits. So for each
sentence of the grammar the graph accepts

* every form of each term, words of one form also joined by hyphens;
* the first term, and any term after a full stop, with a capital or (the first only) without;
* a comma or a full stop between terms, and a full stop at the end;
* digits written together ("07"), and a decimal point or a percent sign as such, which is how
  `words_of` reads them back.

The states are found as a search asks for them. A state is the set of all points of the grammar
at which the pieces written so far may stand, so each piece leads to one state only.
"""

from __future__ import annotations

import enum
import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.language.grammar import Grammar, Term
from assistant.speech.moonshine.pieces import Pieces

__all__ = ["State", "TokenGraph"]


class _After(enum.Enum):
    """What was written last, for what may be written next depends on it."""

    NOTHING = enum.auto()
    WORD = enum.auto()
    DIGIT = enum.auto()
    COMMA = enum.auto()
    STOP = enum.auto()
    POINT = enum.auto()


_TERM_ENDED = (_After.WORD, _After.DIGIT)
_NEW_SENTENCE = (_After.NOTHING, _After.STOP)
_SIGNS = {"point": (".", _After.POINT), "percent": ("%", _After.WORD)}


@dataclass(frozen=True, slots=True)
class _Point:
    """A place in the grammar: the node is reached when the pending pieces have been written."""

    node: int
    after: _After
    pending: tuple[int, ...] = ()


State = frozenset[_Point]
"""All the points at which a beginning of a sentence may stand."""


def _written(term: Term) -> Iterator[str]:
    for form in term.forms:
        yield form
        if " " in form:
            yield form.replace(" ", "-")


def _capital(form: str) -> str:
    return form[0].upper() + form[1:]


class TokenGraph:
    """The graph of one grammar in the pieces of one model.

    Args:
        grammar: what may be said.
        pieces: the model's word pieces.
    """

    def __init__(self, grammar: Grammar, pieces: Pieces) -> None:
        self._grammar = grammar
        self._pieces = pieces
        self._comma, self._stop = pieces.glued(","), pieces.glued(".")
        self._from_point = functools.cache(self._moves)
        self._from_state: dict[State, Mapping[int, State]] = {}
        self.start: State = frozenset({_Point(grammar.start, _After.NOTHING)})

    def follow(self, state: State) -> Mapping[int, State]:
        """The pieces that may be written next, each with the state it leads to."""
        if state not in self._from_state:
            reached: dict[int, set[_Point]] = {}
            for point in state:
                for token, target in self._from_point(point):
                    reached.setdefault(token, set()).add(target)
            self._from_state[state] = {token: frozenset(to) for token, to in reached.items()}
        return self._from_state[state]

    def is_end(self, state: State) -> bool:
        """Whether a sentence may end here."""
        return any(self._ends(point) for point in state)

    def _ends(self, point: _Point) -> bool:
        ended = point.after in (*_TERM_ENDED, _After.STOP) and not point.pending
        return ended and self._grammar.is_end(point.node)

    def _moves(self, point: _Point) -> tuple[tuple[int, _Point], ...]:
        if point.pending:
            return (self._write(point.pending, point.node, point.after),)
        moves = [
            self._write(tokens, arc.target, after)
            for arc in self._grammar.arcs(point.node)
            for tokens, after in self._ways(arc.term, point.after)
        ]
        if point.after in _TERM_ENDED:
            moves.extend(self._punctuation(point.node))
        return tuple(moves)

    def _punctuation(self, node: int) -> Iterator[tuple[int, _Point]]:
        if self._grammar.arcs(node):
            yield self._write(self._comma, node, _After.COMMA)
        if self._grammar.arcs(node) or self._grammar.is_end(node):
            yield self._write(self._stop, node, _After.STOP)

    def _write(self, tokens: tuple[int, ...], node: int, after: _After) -> tuple[int, _Point]:
        return tokens[0], _Point(node, after, tokens[1:])

    def _ways(self, term: Term, before: _After) -> Iterator[tuple[tuple[int, ...], _After]]:
        """Every way to write the term after what was written before."""
        for form in _written(term):
            after = _After.DIGIT if form[-1].isdigit() else _After.WORD
            if before in (_After.DIGIT, _After.POINT) and form[0].isdigit():
                yield self._pieces.glued(form), after
            if before is not _After.POINT:
                for cased in self._cased(form, before):
                    yield self._pieces.segment(cased), after
            if before is _After.DIGIT and form in _SIGNS:
                sign, after = _SIGNS[form]
                yield self._pieces.glued(sign), after

    def _cased(self, form: str, before: _After) -> Iterator[str]:
        if before is not _After.STOP or not form[0].islower():
            yield form
        if before in _NEW_SENTENCE and form[0].islower():
            yield _capital(form)
