"""Grammars of spoken replies: one description from which everything else comes.

A `Rule` pairs an expression over terms with an interpreter of the tags that its terms leave
behind. A `Grammar` is a set of rules compiled into one finite-state graph. The parser, the
recogniser's search, the help text and the enumeration used by tests all walk this same graph.

Theory of operation: expressions (`Term`, `Sequence`, `OneOf`, `SomeOf`, `Maybe`, `Many`) are
compiled to a nondeterministic automaton whose arcs carry terms. The automaton may accept more than
makes sense ("one open one closed"); the interpreter of the rule then answers None and the reply
counts as not understood. A reply that has two different meanings also counts as not understood.
What a node offers is worked out when it is first visited, so that a large grammar costs little
before the first word.
"""

from __future__ import annotations

import functools
import itertools
import re
from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import TypeVar

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
    "SomeOf",
    "Tag",
    "Term",
    "tags_after",
    "words_of",
]

Tag = Hashable
_Left = TypeVar("_Left", bound=Hashable)
Interpreter = Callable[[tuple[Tag, ...]], Meaning | None]


@dataclass(frozen=True, slots=True)
class Term:
    """A word or fixed group of words, the atom of a grammar.

    Args:
        spoken: the words as they are said, lower case, separated by single spaces; empty for what
            can only be typed.
        spellings: other ways in which a recogniser or a keyboard may write the same sound
            ("5" for "five"); they parse like the term itself.
        tag: what the term contributes to the meaning, or None.
        typed: a single character that stands for the term where it is written, also run together
            with its neighbours ("KF07"), but that no recogniser searches for; empty if none.
    """

    spoken: str
    spellings: tuple[str, ...] = ()
    tag: Tag | None = None
    typed: str = ""

    @property
    def forms(self) -> tuple[str, ...]:
        """Every way to write the term but the typed one, the spoken form first."""
        return (self.spoken, *self.spellings)


@dataclass(frozen=True, slots=True, init=False)
class Sequence:
    """All parts, in this order."""

    parts: tuple[Expression, ...]

    def __init__(self, *parts: Expression) -> None:
        object.__setattr__(self, "parts", parts)


@dataclass(frozen=True, slots=True, init=False)
class OneOf:
    """Exactly one of the parts; those of a part that is such a choice itself count as its own."""

    parts: tuple[Expression, ...]

    def __init__(self, *parts: Expression) -> None:
        flat = (part.parts if isinstance(part, OneOf) else (part,) for part in parts)
        object.__setattr__(self, "parts", tuple(itertools.chain.from_iterable(flat)))


@dataclass(frozen=True, slots=True, init=False)
class SomeOf:
    """One or more of the parts, in their order, with `between` between each two."""

    parts: tuple[Expression, ...]
    between: Expression

    def __init__(self, *parts: Expression, between: Expression) -> None:
        object.__setattr__(self, "parts", parts)
        object.__setattr__(self, "between", between)


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


Expression = Term | Sequence | OneOf | SomeOf | Maybe | Many


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
                return self._one_of(parts, source)
            case SomeOf(parts, between):
                return self._some_of(parts, between, source)
            case Maybe(part):
                end = self.compile(part, source)
                self.silent[source].append(end)
                return end
            case Many(part, least, most):
                return self._many(part, least, most, source)

    def _one_of(self, parts: tuple[Expression, ...], source: int) -> int:
        """Terms lead straight to the end, so that what follows stands in the graph once."""
        end = self.node()
        for part in parts:
            if isinstance(part, Term):
                self.arcs[source].append(Arc(part, end))
            else:
                self.silent[self.compile(part, source)].append(end)
        return end

    def _some_of(self, parts: tuple[Expression, ...], between: Expression, source: int) -> int:
        end = self.node()
        before = [source]
        for part in parts:
            entry = self.node()
            for node in before:
                self.silent[node].append(entry)
            after = self.compile(part, entry)
            self.silent[after].append(end)
            before.append(self.compile(between, after))
        return end

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
        reached = {node: None}
        waiting = [node]
        for at in waiting:
            fresh = [move for move in self.silent[at] if move not in reached]
            reached.update(dict.fromkeys(fresh))
            waiting.extend(dict.fromkeys(fresh))
        return waiting


_VULGAR = {"1/2": "½", "1/4": "¼", "3/4": "¾"}
_FRACTION = re.compile(r"(?<![\d/])(?:1/2|1/4|3/4)(?![\d/])|[½¼¾]")
_WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)*|(?<![^\W\d_])-(?=\s*\d)")


def words_of(text: str) -> tuple[str, ...]:
    """Split a written reply into its words: lower case, no punctuation, hyphens as spaces.

    Signs that are said have words of their own: a decimal point, a percent sign, a vulgar
    fraction, and a hyphen before a figure, which may mean a range or a minus (not after a letter).

    >>> words_of("One and two closed, twenty-five open.")
    ('one', 'and', 'two', 'closed', 'twenty', 'five', 'open')
    >>> words_of("2.4 %")
    ('2', 'point', '4', 'percent')
    >>> words_of("1 1/2 turns")
    ('1', '½', 'turns')
    >>> words_of("1-4 open")
    ('1', '-', '4', 'open')
    """
    text = re.sub(r"(?<=\d)[.](?=\d)", " point ", text.lower()).replace("%", " percent ")
    text = re.sub("[‐‑–—−]", "-", text)  # noqa: RUF001 - hyphens and dashes that editors insert
    text = _FRACTION.sub(lambda found: f" {_VULGAR.get(found[0], found[0])} ", text)
    return tuple(_WORD.findall(text))


def _codes(words: tuple[str, ...]) -> frozenset[str]:
    """The words that may be typed characters: single ones, and what looks like part of a code."""
    with_figures = {word for word in words if any(map(str.isdigit, word))}
    longest = 3 if with_figures else 1
    return frozenset(with_figures | {word for word in words if len(word) <= longest})


@functools.lru_cache(maxsize=4096)
def _forms_in_words(term: Term) -> tuple[tuple[str, ...], ...]:
    return tuple(dict.fromkeys(words for form in term.forms if (words := words_of(form))))


class _Node:
    """What may be said at a node, and which rules end there.

    Args:
        arcs: what may be said or typed next.
        rules: the rules of which a sentence may end here.
    """

    __slots__ = ("_by_first_word", "_typed", "rules", "spoken")

    def __init__(self, arcs: tuple[Arc, ...], rules: tuple[Rule, ...]) -> None:
        self.spoken = tuple(arc for arc in arcs if arc.term.spoken)
        self.rules = rules
        self._by_first_word: dict[str, list[tuple[tuple[str, ...], Arc]]] = {}
        for arc in arcs:
            for form in _forms_in_words(arc.term):
                self._by_first_word.setdefault(form[0], []).append((form, arc))
        self._typed = [arc for arc in arcs if arc.term.typed]

    def steps(
        self, words: tuple[str, ...], codes: frozenset[str], index: int, offset: int
    ) -> Iterable[tuple[int, int, Arc]]:
        """Each arc that the text allows at a word and a character in it, and where it leads."""
        if offset == 0:
            forms = self._by_first_word.get(words[index], ())
            whole = [
                (index + len(form), 0, arc)
                for form, arc in forms
                if words[index : index + len(form)] == form
            ]
            if whole:
                return whole
        word = words[index]
        if word not in codes:
            return ()
        onward = (index + 1, 0) if offset + 1 == len(word) else (index, offset + 1)
        return [(*onward, arc) for arc in self._typed if arc.term.typed == word[offset]]

    def begun(self, words: tuple[str, ...]) -> list[Arc]:
        """The arcs of which the words are the beginning, and not the whole; all for no words."""
        if not words:
            return list(self.spoken)
        forms = self._by_first_word.get(words[0], ())
        return [
            arc for form, arc in forms if len(form) > len(words) and form[: len(words)] == words
        ]


def tags_after(tags: tuple[Tag, ...], term: Term) -> tuple[Tag, ...]:
    """The tags that are left when a term follows."""
    return tags if term.tag is None else (*tags, term.tag)


def _spoken_after(spoken: tuple[str, ...], term: Term) -> tuple[str, ...]:
    return (*spoken, term.spoken)


class Grammar:
    """Rules compiled into one graph.

    The graph is what a recogniser may search: `start`, `arcs(node)` and `is_end(node)`.
    """

    start = 0

    def __init__(self, rules: tuple[Rule, ...]) -> None:
        self.rules = rules
        self._graph = _Builder()
        self._ends: dict[int, Rule] = {}
        self._visited: dict[int, _Node] = {}
        start = self._graph.node()
        for rule in rules:
            first = self._graph.node()
            self._graph.silent[start].append(first)
            self._ends[self._graph.compile(rule.expression, first)] = rule

    def _at(self, node: int) -> _Node:
        if node not in self._visited:
            reached = self._graph.reach(node)
            self._visited[node] = _Node(
                tuple(arc for at in reached for arc in self._graph.arcs[at]),
                tuple(self._ends[at] for at in reached if at in self._ends),
            )
        return self._visited[node]

    def arcs(self, node: int) -> tuple[Arc, ...]:
        """What may be said next at `node`; what can only be typed is left out."""
        return self._at(node).spoken

    def is_end(self, node: int) -> bool:
        """Whether a sentence may end at `node`."""
        return bool(self._at(node).rules)

    def parse(self, text: str) -> Meaning | None:
        """What the text means; None where the grammar has no such reply, or two meanings of it.

        Words are taken as typed characters run together only where they are none of the words
        that may be said there, and look like a code: they hold a figure, or they have up to three
        letters and another word holds a figure ("KF-07", but not "no").
        """
        words = words_of(text)
        meanings = {
            meaning
            for index, _, node, tags in self._walk(words, tags_after)
            if index == len(words)
            for meaning in self.meanings(node, tags)
        }
        return meanings.pop() if len(meanings) == 1 else None

    def as_said(self, text: str) -> str | None:
        """The text in the spoken forms of its terms; None where it is no sentence of the grammar.

        "Won and 2 closed." is said "one and two closed".
        """
        words = words_of(text)
        said = [
            " ".join(spoken)
            for index, _, node, spoken in self._walk(words, _spoken_after)
            if index == len(words) and self.is_end(node)
        ]
        return min(said, default=None)

    def meanings(self, node: int, tags: tuple[Tag, ...]) -> Iterator[Meaning]:
        """What a sentence means that ends at `node` and left these tags."""
        readings = (rule.interpret(tags) for rule in self._at(node).rules)
        yield from (meaning for meaning in readings if meaning is not None)

    def onward(self, text: str) -> Iterator[tuple[int, tuple[Tag, ...]]]:
        """The node and the tags that each term leads to which may come next after the text.

        Where the text ends within a term ("twenty" in "twenty five"), that term counts as next.
        """
        words = words_of(text)
        for index, offset, at, tags in self._walk(words, tags_after):
            if offset == 0:
                for arc in self._at(at).begun(words[index:]):
                    yield arc.target, tags_after(tags, arc.term)

    def _walk(
        self, words: tuple[str, ...], after: Callable[[tuple[_Left, ...], Term], tuple[_Left, ...]]
    ) -> Iterator[tuple[int, int, int, tuple[_Left, ...]]]:
        """Each way into the words: the word and the character in it, the node, and what was left.

        Args:
            words: what was said or written.
            after: from what was left so far and the next term to what is left then.
        """
        codes = _codes(words)
        paths: set[tuple[int, int, int, tuple[_Left, ...]]] = {(0, 0, self.start, ())}
        while paths:
            index, offset, at, left = path = paths.pop()
            yield path
            if index < len(words):
                for onward, inside, arc in self._at(at).steps(words, codes, index, offset):
                    paths.add((onward, inside, arc.target, after(left, arc.term)))

    def sentences(self, most: int | None = None) -> Iterator[str]:
        """Every sentence that means something, shortest first, in spoken form; at most `most`."""
        level: dict[tuple[int, str], None] = {(self.start, ""): None}
        given: set[str] = set()
        while level:
            for node, said in level:
                if self.is_end(node) and said not in given and self.parse(said) is not None:
                    given.add(said)
                    yield said
                    if len(given) == most:
                        return
            level = {
                (arc.target, f"{said} {arc.term.spoken}".strip()): None
                for node, said in level
                for arc in self.arcs(node)
            }

    def vocabulary(self) -> frozenset[str]:
        """Every single word in spoken form, for engines that take a word list."""
        terms = {arc.term for arcs in self._graph.arcs for arc in arcs}
        return frozenset(word for term in terms for word in words_of(term.spoken))
