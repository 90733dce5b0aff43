"""The two senses in which a valve travels and a shaft rotates."""

from __future__ import annotations

import enum

__all__ = ["Rotation", "Travel"]


class Travel(enum.StrEnum):
    """The direction in which the valve moves."""

    OPENING = "opening"
    CLOSING = "closing"

    @property
    def opposite(self) -> Travel:
        """The other direction of travel."""
        return Travel.CLOSING if self is Travel.OPENING else Travel.OPENING


class Rotation(enum.StrEnum):
    """The sense in which an intermediate shaft turns, as the technician sees it."""

    CLOCKWISE = "clockwise"
    COUNTERCLOCKWISE = "counterclockwise"

    @property
    def opposite(self) -> Rotation:
        """The other sense of rotation."""
        return Rotation.COUNTERCLOCKWISE if self is Rotation.CLOCKWISE else Rotation.CLOCKWISE
