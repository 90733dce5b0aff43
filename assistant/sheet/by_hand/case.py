"""What a computation is given on paper, and how its working out by hand is written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import ceil, floor

from assistant.language.meaning import ContactStates
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.computing.computation import Finding
from assistant.procedure.model import Compute
from assistant.procedure.program import Node
from assistant.procedure.values import Kind, RotorOfUnit, Value
from assistant.sheet.texts import Blank, Paper, Text
from assistant.trade.contacts import Reading
from assistant.trade.unit import Unit

__all__ = ["ByHand", "Case", "Row", "Writer", "figures", "inward", "reading"]


_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that can be found.

    Args:
        outcome: of the computation.
        cells: what is so then, one text for each head of the table.
        said: what the voice says of it; empty where nothing is.
    """

    outcome: str
    cells: tuple[Text, ...]
    said: Text = ()


@dataclass(frozen=True, slots=True)
class ByHand:
    """How a computation is done by hand.

    Args:
        heads: of the table.
        rows: every outcome at least once.
        work: what to reckon or to write down first.
    """

    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    work: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class Case:
    """A computation at its step."""

    node: Node
    compute: Compute
    paper: Paper

    @property
    def unit(self) -> Unit | None:
        """The unit; None on a sheet for any unit."""
        return self.paper.unit

    @property
    def rotor(self) -> RotorOfUnit | None:
        """The rotor that it is given, with its unit; None on a sheet for any unit."""
        value = self.known("rotor")
        return value.content if value else None

    def known(self, key: str) -> Value | None:
        """An input whose value is known before the job."""
        if key in self.compute.written:
            return self.compute.written[key]
        return self.paper.value(self.node, dict(self.compute.inputs)[key])

    def blank(self, key: str) -> Blank:
        """An input that is found during the job."""
        return self.paper.blank(self.node, dict(self.compute.inputs)[key])

    def run(self, inputs: Mapping[str, Value]) -> Finding:
        """What the computation itself finds."""
        return COMPUTATIONS[self.compute.computation].run(inputs)


Writer = Callable[[Case], ByHand]
"""Writes how one computation is done by hand."""


def figures(states: Reading) -> str:
    """The states of contacts in figures, as one reads them.

    >>> from assistant.trade.contacts import ContactState
    >>> figures({1: ContactState.CLOSED, 2: ContactState.CLOSED, 3: ContactState.OPEN})
    '1, 2 closed; 3 open'
    """
    groups: dict[str, list[str]] = {}
    for contact, state in sorted(states.items()):
        groups.setdefault(state.value, []).append(str(contact))
    return "; ".join(f"{', '.join(contacts)} {state}" for state, contacts in groups.items())


def inward(least: float, most: float, decimals: int = 2) -> tuple[str, str]:
    """The ends of a range, rounded so that nothing outside of it is taken for inside.

    >>> inward(0.751, 1.249), inward(0.75, 1.25)
    (('0.76', '1.24'), ('0.75', '1.25'))
    """
    scale = 10.0**decimals
    low, high = ceil(least * scale - _ROUNDING), floor(most * scale + _ROUNDING)
    return f"{low / scale:.{decimals}f}", f"{high / scale:.{decimals}f}"


def reading(states: Reading) -> Value:
    """States of contacts as the value of a confirmed reading."""
    return Value(Kind.READING, ContactStates.of(states))
