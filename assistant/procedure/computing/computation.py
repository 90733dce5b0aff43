"""What a computation is, and what it finds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from assistant.procedure.values import Kind, Value

__all__ = ["Computation", "Finding", "Inputs"]

Inputs = Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Finding:
    """What a computation found.

    Args:
        outcome: one of the computation's outcomes.
        because: why, in one or two short sentences in the technician's words, fit to be spoken.
        result: the value found, or None.
    """

    outcome: str
    because: str
    result: Value | None = None


@dataclass(frozen=True, slots=True)
class Computation:
    """A computation that a step can name.

    Args:
        inputs: names and kinds of what it needs.
        outcomes: the outcomes that the step must say where to go on.
        run: from the inputs to what was found.
        result: kind of what it gives; None where only the outcome counts.
        without_result: outcomes that leave no usable result; texts after them may not name it.
        units: for each input that is a number of one unit only, this unit.
        result_unit: of a result that is a number.
        may_be_written: the inputs that may also be written as a number with its unit.
    """

    inputs: Mapping[str, Kind]
    outcomes: tuple[str, ...]
    run: Callable[[Inputs], Finding]
    result: Kind | None = None
    without_result: frozenset[str] = frozenset()
    units: Mapping[str, str] = field(default_factory=dict)
    result_unit: str | None = None
    may_be_written: frozenset[str] = frozenset()
