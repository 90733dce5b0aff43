"""The sense in which a rotor trips."""

from __future__ import annotations

import enum

__all__ = ["Sense"]


class Sense(enum.StrEnum):
    """Whether contacts change over as drawn, or make where they should break."""

    DRAWN = "drawn"
    INVERTED = "inverted"
