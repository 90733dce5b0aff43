"""How often words were taken for each other, as it was measured, read from ``confusions.csv``.

Written by tests/bench/words.py with the default recogniser and synthetic voices; the first line of
the file tells which. A pair that was never confused there was said only so often.
"""

from __future__ import annotations

import csv
import functools
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Confusion", "measured_confusions"]


@dataclass(frozen=True, slots=True)
class Confusion:
    """What was heard for something said, right or wrong.

    Args:
        place: the question that was answered, in words.
        said: what was said.
        heard: the likeliest reading, believed or not; empty if there was none.
        right: whether it means what was said.
        condition: the noise, in words.
        times: how often this was heard.
        of: how often it was said.
    """

    place: str
    said: str
    heard: str
    right: bool
    condition: str
    times: int
    of: int


@functools.cache
def measured_confusions() -> tuple[Confusion, ...]:
    """Everything that was measured; read once."""
    text = Path(__file__).with_suffix(".csv").read_text("utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return tuple(
        Confusion(
            row["place"],
            row["said"],
            row["heard"],
            row["right"] == "yes",
            row["condition"],
            int(row["times"]),
            int(row["of"]),
        )
        for row in rows
    )
