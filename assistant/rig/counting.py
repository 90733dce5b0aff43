"""What a technician has counted and felt since the last thing that was asked."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.trade.motion import Travel
from assistant.trade.travel import quarter_turns

__all__ = ["Counting"]


@dataclass(slots=True)
class Counting:
    """Counts of turns, to the quarter that a person can tell.

    Args:
        turns: handwheel turns since the count began.
        changed: whether the last slow crank ended at a change-over.
        revolutions: of a shaft, up to its change-over; None where none came.
        moved: which way the motor moved the valve when it was jogged.
    """

    turns: float = 0.0
    changed: bool = False
    revolutions: float | None = None
    moved: Travel | None = None
    _fresh: bool = True

    @property
    def told(self) -> float:
        """The handwheel turns, as a person tells them."""
        return quarter_turns(self.turns)

    def restart(self) -> None:
        """Count from here."""
        self.turns, self._fresh = 0.0, True

    def to_stop(self, made: float) -> None:
        """Cranked to a stop: its turns count alone, and the next count begins at the stop."""
        self.turns, self._fresh = made, True

    def add(self, made: float, *, changed: bool) -> None:
        """Cranked on slowly, up to a change-over or to the end."""
        self.turns = made if self._fresh else self.turns + made
        self._fresh = False
        self.changed = changed

    def shaft(self, made: float | None) -> None:
        """Turned a shaft by hand."""
        self.revolutions = made

    def skipped(self) -> None:
        """Did nothing, and answers as if."""
        self.changed = True
        self.revolutions = self.revolutions or 0.0
