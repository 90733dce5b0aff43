"""Search for the sentences of a grammar that frames spell best.

Theory of operation: beginnings of sentences grow by one term a step, and the likeliest go on (see
`Spelled.begun`). The search is over when none is left that may still matter.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.language.grammar import Grammar, OneOf, Rule, Sequence, Term
from assistant.speech.moonshine.speller.alignment import Frames, Spelled, nothing

__all__ = ["Terms", "only", "spelled_best"]

BEAM_WIDTH = 16
"""How many beginnings go on after each step."""

HOPELESS = 1e-7
"""A beginning less likely than the best sentence by this factor cannot matter any more."""


Terms = tuple[Term, ...]
"""A sentence, term by term."""


@dataclass(frozen=True, slots=True)
class _Beginning:
    terms: Terms
    node: int
    row: int


def spelled_best(grammar: Grammar, frames: Frames, most: int) -> list[Terms]:
    """The sentences of a grammar that are spelled best, best first.

    Args:
        grammar: what may have been said; its terms are spelled in the letters of `ALPHABET`.
        frames: what was heard.
        most: how many sentences at most.
    """
    live, spelled = [_Beginning((), grammar.start, 0)], nothing(frames)
    found: dict[Terms, float] = {}
    while live:
        grown, spelled = _grow(grammar, live, spelled, frames)
        ended = spelled.ended
        for one in grown:
            if grammar.is_end(one.node):
                found[one.terms] = float(ended[one.row])
        floor = HOPELESS * max(found.values(), default=0.0)
        hopeful = [one for one in grown if spelled.begun[one.row] > floor]
        hopeful.sort(key=lambda one: float(spelled.begun[one.row]), reverse=True)
        best = hopeful[:BEAM_WIDTH]
        spelled = spelled.rows([one.row for one in best])
        live = [_Beginning(one.terms, one.node, row) for row, one in enumerate(best)]
    return sorted(found, key=lambda terms: found[terms], reverse=True)[:most]


def _grow(
    grammar: Grammar, live: list[_Beginning], spelled: Spelled, frames: Frames
) -> tuple[list[_Beginning], Spelled]:
    """Every way on from every beginning, each in a row of its own."""
    ways = {
        ((*one.terms, arc.term), arc.target): one for one in live for arc in grammar.arcs(one.node)
    }
    texts = [f" {terms[-1].spoken}" if len(terms) > 1 else terms[-1].spoken for terms, _ in ways]
    rows = spelled.rows([one.row for one in ways.values()]).then(frames, texts)
    return [_Beginning(terms, node, row) for row, (terms, node) in enumerate(ways)], rows


def only(sentences: list[Terms]) -> Grammar:
    """A grammar of these sentences and no others; they mean nothing there."""
    expression = OneOf(*(Sequence(*terms) for terms in sentences))
    return Grammar((Rule("proposals", expression, interpret=lambda tags: None),))
