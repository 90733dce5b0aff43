"""Which numbers are believed."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Range"]


@dataclass(frozen=True, slots=True)
class Range:
    """The numbers that are believed, ends included."""

    least: float | None = None
    most: float | None = None

    def refuses(self, value: float) -> bool:
        """Whether a number lies outside."""
        below = self.least is not None and value < self.least
        above = self.most is not None and value > self.most
        return below or above
