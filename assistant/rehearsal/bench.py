"""What is rehearsed: the procedure, the unit, the papers, and the rig as it is found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from assistant.language.english import english
from assistant.procedure.program import Program
from assistant.procedure.values import Kind, Value
from assistant.rig.as_found import Found, built
from assistant.rig.motor import Motor
from assistant.rig.technician import Technician, plate_of
from assistant.session.core import Session
from assistant.trade.unit import Unit

__all__ = ["Bench"]

STROKE_SECONDS = 51.0
"""Of the simulated motor where the sheet does not tell; invented."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What is rehearsed.

    Args:
        program: the checked procedure, which must fit the unit.
        unit: the unit; None for a procedure that needs none.
        papers: what was told about the job before it begins.
        found: how each rotor of the unit is found, by its name.
        stroke_turns: handwheel turns that the valve really makes; None for those of the sheet.
    """

    program: Program
    unit: Unit | None
    papers: Mapping[str, Value]
    found: Mapping[str, Found] = field(default_factory=dict)
    stroke_turns: float | None = None

    def session(self) -> Session:
        """A new session of it."""
        return Session(self.program, self.unit, english(), self.papers)

    def technician(self) -> Technician:
        """A technician who has not begun, on a rig as it is found."""
        named = {name: str(v.content) for name, v in self.papers.items() if v.kind is Kind.LETTERS}
        if self.unit is None:
            return Technician(None, named)
        rig = built(self._really(self.unit), self.found)
        seconds = self.unit.stroke_seconds
        motor = Motor(rig, STROKE_SECONDS if seconds is None else seconds.value)
        return Technician(rig, {**named, **plate_of(self.unit)}, motor)

    def _really(self, unit: Unit) -> Unit:
        """The unit as it is, which its sheet may have wrong."""
        if self.stroke_turns is None:
            return unit
        return replace(unit, stroke_turns=replace(unit.stroke_turns, value=self.stroke_turns))
