"""Grammars of spoken replies: one description from which everything else comes.

A `Rule` pairs an expression over terms with an interpreter of the tags that its terms leave
behind. A `Grammar` is a set of rules compiled into one finite-state graph. The parser, the
recogniser's search, the help text and the enumeration used by tests all walk this same graph.

Theory of operation: expressions (`Term`, `Sequence`, `OneOf`, `Maybe`, `Many`) are compiled to
a nondeterministic automaton whose arcs carry terms. The automaton may accept more than makes
sense ("one open one closed"); the interpreter of the rule then answers None and the reply counts
as not understood. A reply that has two different meanings also counts as not understood.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field

from assistant.language.meaning import Meaning

__all__ = [
    "Arc",
    "Expression",
    "Grammar",
    "Many",
    "Maybe",
    "OneOf",
    "Rule",
    "Sequence",
    "Tag",
    "Term",
    "words_of",
]

Tag = Hashable
Interpreter = Callable[[tuple[Tag, ...]], Meaning | None]


@dataclass(frozen=True, slots=True)
class Term:
    """A word or fixed group of words, the atom of a grammar.

    Args:
        spoken: the words as they are said, lower case, separated by single spaces.
        spellings: other ways in which a recogniser or a keyboard may write the same sound
            ("5" for "five"); they parse like the term itself.
        tag: what the term contributes to the meaning, or None.
    """

    spoken: str
    spellings: tuple[str, ...] = ()
    tag: Tag | None = None

    @property
    def forms(self) -> tuple[str, ...]:
        """Every way to write the term, the spoken form first."""
        return (self.spoken, *self.spellings)


@dataclass(frozen=True, slots=True, init=False)
class Sequence:
    """All parts, in this order."""

    parts: tuple[Expression, ...]

    def __init__(self, *parts: Expression) -> None:
        object.__setattr__(self, "parts", parts)


@dataclass(frozen=True, slots=True, init=False)
class OneOf:
    """Exactly one of the parts."""

    parts: tuple[Expression, ...]

    def __init__(self, *parts: Expression) -> None:
        object.__setattr__(self, "parts", parts)


@dataclass(frozen=True, slots=True)
class Maybe:
    """The part, or nothing."""

    part: Expression


@dataclass(frozen=True, slots=True)
class Many:
    """The part, `least` to `most` times."""

    part: Expression
    least: int
    most: int


Expression = Term | Sequence | OneOf | Maybe | Many


@dataclass(frozen=True, slots=True)
class Rule:
    """One kind of reply.

    Args:
        name: what kind of reply it is, in the user's words ("contact states").
        expression: the sentences.
        interpret: from the tags of a sentence, in spoken order, to its meaning; None where the
            sentence contradicts itself.
        examples: sentences to offer as help, most natural first.
    """

    name: str
    expression: Expression
    interpret: Interpreter
    examples: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Arc:
    """A transition of the compiled graph: saying `term` leads to node `target`."""

    term: Term
    target: int


@dataclass(slots=True)
class _Builder:
    """Collects arcs and silent moves while expressions are compiled."""

    arcs: list[list[Arc]] = field(default_factory=list)
    silent: list[list[int]] = field(default_factory=list)

    def node(self) -> int:
        self.arcs.append([])
        self.silent.append([])
        return len(self.arcs) - 1

    def compile(self, expression: Expression, source: int) -> int:
        """Append the expression after `source`; answer the node where it ends."""
        match expression:
            case Term():
                target = self.node()
                self.arcs[source].append(Arc(expression, target))
                return target
            case Sequence(parts):
                for part in parts:
                    source = self.compile(part, source)
                return source
            case OneOf(parts):
                end = self.node()
                for part in parts:
                    self.silent[self.compile(part, source)].append(end)
                return end
            case Maybe(part):
                end = self.compile(part, source)
                self.silent[source].append(end)
                return end
            case Many(part, least, most):
                return self._many(part, least, most, source)

    def _many(self, part: Expression, least: int, most: int, source: int) -> int:
        end = self.node()
        for count in range(most):
            if count >= least:
                self.silent[source].append(end)
            source = self.compile(part, source)
        self.silent[source].append(end)
        return end

    def reach(self, node: int) -> list[int]:
        """Every node reached from `node` without saying anything, `node` first."""
        seen = [node]
        for at in seen:
            seen.extend(move for move in self.silent[at] if move not in seen)
        return seen


def words_of(text: str) -> tuple[str, ...]:
    """Split a written reply into its words: lower case, no punctuation, hyphens as spaces.

    >>> words_of("One and two closed, twenty-five open.")
    ('one', 'and', 'two', 'closed', 'twenty', 'five', 'open')
    >>> words_of("2.4 %")
    ('2', 'point', '4', 'percent')
    """
    text = re.sub(r"(?<=\d)[.](?=\d)", " point ", text.lower()).replace("%", " percent ")
    return tuple(re.findall(r"[^\W_]+(?:'[^\W_]+)*", text))


class Grammar:
    """Rules compiled into one graph.

    The graph is what a recogniser may search: `start`, `arcs(node)` and `is_end(node)`.
    """

    start = 0

    def __init__(self, rules: tuple[Rule, ...]) -> None:
        self.rules = rules
        builder = _Builder()
        start = builder.node()
        ends: dict[int, Rule] = {}
        for rule in rules:
            first = builder.node()
            builder.silent[start].append(first)
            ends[builder.compile(rule.expression, first)] = rule
        self._arcs: list[tuple[Arc, ...]] = []
        self._rule_ends: list[tuple[Rule, ...]] = []
        for node in range(len(builder.arcs)):
            reached = builder.reach(node)
            self._arcs.append(tuple(arc for at in reached for arc in builder.arcs[at]))
            self._rule_ends.append(tuple(ends[at] for at in reached if at in ends))

    def arcs(self, node: int) -> tuple[Arc, ...]:
        """What may be said next at `node`."""
        return self._arcs[node]

    def is_end(self, node: int) -> bool:
        """Whether a sentence may end at `node`."""
        return bool(self._rule_ends[node])

    def parse(self, text: str) -> Meaning | None:
        """What the text means; None where the grammar has no such reply, or two meanings of it."""
        meanings = set(self._meanings(words_of(text)))
        return meanings.pop() if len(meanings) == 1 else None

    def _meanings(self, words: tuple[str, ...]) -> Iterator[Meaning]:
        paths: set[tuple[int, int, tuple[Tag, ...]]] = {(0, self.start, ())}
        while paths:
            position, node, tags = paths.pop()
            if position == len(words):
                for rule in self._rule_ends[node]:
                    meaning = rule.interpret(tags)
                    if meaning is not None:
                        yield meaning
                continue
            for arc in self._arcs[node]:
                left = tags if arc.term.tag is None else (*tags, arc.term.tag)
                for form in arc.term.forms:
                    spelled = words_of(form)
                    if words[position : position + len(spelled)] == spelled:
                        paths.add((position + len(spelled), arc.target, left))

    def sentences(self, most: int | None = None) -> Iterator[str]:
        """Every sentence that means something, shortest first, in spoken form; at most `most`."""
        level: list[tuple[int, tuple[str, ...]]] = [(self.start, ())]
        seen: set[str] = set()
        while level:
            following: list[tuple[int, tuple[str, ...]]] = []
            for node, said in level:
                sentence = " ".join(said)
                if self.is_end(node) and sentence not in seen and self.parse(sentence) is not None:
                    seen.add(sentence)
                    yield sentence
                    if len(seen) == most:
                        return
                following.extend((arc.target, (*said, arc.term.spoken)) for arc in self._arcs[node])
            level = following

    def vocabulary(self) -> frozenset[str]:
        """Every single word in spoken form, for engines that take a word list."""
        return frozenset(
            word for arcs in self._arcs for arc in arcs for word in words_of(arc.term.spoken)
        )
