"""A text on paper: what is known before the job in words, the rest as blanks to be filled in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assistant.procedure.fit import ways_on
from assistant.procedure.model import Reference, Template
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import assigned_by
from assistant.procedure.values import Value
from assistant.session.names import Names
from assistant.trade.unit import Unit

__all__ = ["Blank", "Paper", "Text", "plain"]


@dataclass(frozen=True, slots=True)
class Blank:
    """What is only known during the job.

    Args:
        name: what it is.
        steps: numbers of the steps at which it is found; none for what the papers of the job say.
    """

    name: str
    steps: tuple[int, ...] = ()


Text = tuple[str | Blank, ...]
"""A text in pieces, in the order of reading."""


def plain(text: Iterable[str | Blank]) -> str:
    """The text in one line, a blank as its name in brackets."""
    pieces = (piece if isinstance(piece, str) else f"[{piece.name}]" for piece in text)
    return " ".join("".join(pieces).split())


class Paper:
    """What is known of a program before the job, and where the rest is found.

    Args:
        program: the checked procedure.
        unit: the unit sheet; None for a sheet that serves any unit.
        nodes: the steps that are printed.
    """

    def __init__(self, program: Program, unit: Unit | None, nodes: Iterable[Node]) -> None:
        self.unit = unit
        self.numbers: Mapping[str, int] = {n: i for i, n in enumerate(program.nodes, 1)}
        self._names = Names.at_start(unit, {})
        self._papers = frozenset(program.procedure.papers)
        self._gives: dict[str, frozenset[str]] = {}
        self._before: dict[str, list[str]] = {}
        for node in nodes:
            self._gives[node.name] = frozenset(name for name, _ in assigned_by(node))
            for target in ways_on(node, unit):
                self._before.setdefault(target, []).append(node.name)
        self._known = self._papers.union(*self._gives.values())

    def text(self, node: Node, template: Template) -> Text:
        """A text of a step."""
        return tuple(self._piece(node, piece) for piece in template.pieces)

    def value(self, node: Node, reference: Reference) -> Value | None:
        """The value of a reference if it is known before the job."""
        return self._names.value(node, reference) if self._is_known(node, reference) else None

    def blank(self, node: Node, reference: Reference) -> Blank:
        """The blank for a reference, with the steps where its value is found."""
        head, fields = node.scope.resolve(reference.path, self._known)
        name = ": ".join((head.rpartition("/")[2], *fields)).replace("-", " ")
        return Blank(name, () if head in self._papers else tuple(self._given_at(node.name, head)))

    def _given_at(self, name: str, value: str) -> list[int]:
        """The steps that can have given a value last when a step begins."""
        found: list[int] = []
        seen: set[str] = set()
        open_ = list(self._before.get(name, ()))
        while open_:
            before = open_.pop()
            if before in seen:
                continue
            seen.add(before)
            if value in self._gives[before]:
                found.append(self.numbers[before])
            else:
                open_.extend(self._before.get(before, ()))
        return sorted(found)

    def _piece(self, node: Node, piece: str | Reference) -> str | Blank:
        if isinstance(piece, str):
            return piece
        if not self._is_known(node, piece):
            return self.blank(node, piece)
        return self._names.text(node, Template((piece,), piece.place))

    def _is_known(self, node: Node, reference: Reference) -> bool:
        """Whether the unit sheet tells it."""
        head = reference.path[0]
        return self.unit is not None and (head == "unit" or head in node.scope.rotors)
