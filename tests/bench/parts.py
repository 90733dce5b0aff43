"""Development and test: what constants may be chosen on, and what they are measured on.

Nothing is in both parts: no voice (`voices`), no sentence of babble (`talk`) and no noise: the
seeds of one part are even, those of the other odd.
"""

from __future__ import annotations

import enum
import zlib

__all__ = ["Part", "seed"]


class Part(enum.StrEnum):
    """Which part of the voices and noises."""

    DEVELOPMENT = "development"
    TEST = "test"


def seed(part: Part, *names: str) -> int:
    """A seed of this part, always the same for the same names."""
    return 2 * zlib.crc32("/".join(names).encode()) + (part is Part.TEST)
