"""How many replies will be understood at once, from what was measured in noise.

`understood.csv` is written from a run of the hearing benchmark (``python -m tests.bench.rates``):
for each noise and each ratio of active speech to noise, and without noise, how many replies there
were, how many were understood and how many were taken for another.
"""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np

__all__ = ["NO_NOISE", "Measured", "expected", "lowest_ratio", "measured"]

NO_NOISE = 40.0
"""Ratio from which on noise no longer matters [dB] (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What a cell of the benchmark came to.

    Args:
        noise: its name there; empty for none.
        ratio: active speech over noise [dB]; `NO_NOISE` for none.
        cases: replies in the cell.
        understood: of them, understood at once.
        wrong: of them, taken for another.
    """

    noise: str
    ratio: float
    cases: int
    understood: int
    wrong: int


@cache
def measured() -> tuple[Measured, ...]:
    """What was measured with the recogniser that the program comes with."""
    text = (resources.files("assistant.kit") / "understood.csv").read_text("utf-8")
    rows = csv.DictReader(text.splitlines())
    return tuple(
        Measured(
            row["noise"],
            float(row["ratio"] or NO_NOISE),
            *(int(row[name]) for name in ("cases", "understood", "wrong")),
        )
        for row in rows
    )


def expected(ratio: float, cells: Iterable[Measured]) -> tuple[float, float]:
    """The share of replies understood at once in the worst and the best noise that was measured.

    Between the ratios that were measured it is interpolated; beyond them the nearest counts, so
    that below the lowest the true share is smaller. What was heard without noise counts for every
    noise.

    Args:
        ratio: active speech over noise [dB].
        cells: what was measured, at least one.
    """
    by_noise: dict[str, dict[float, float]] = {}
    for cell in cells:
        by_noise.setdefault(cell.noise, {})[cell.ratio] = cell.understood / cell.cases
    without = by_noise.pop("", {})
    shares = [_share(ratio, measured_at | without) for measured_at in by_noise.values()]
    return min(shares), max(shares)


def lowest_ratio(cells: Collection[Measured]) -> float:
    """The lowest ratio at which every noise was measured [dB]; below it nothing is known.

    Args:
        cells: what was measured, at least one with noise.
    """
    noises = {cell.noise for cell in cells if cell.noise}
    return max(min(cell.ratio for cell in cells if cell.noise == noise) for noise in noises)


def _share(ratio: float, measured_at: Mapping[float, float]) -> float:
    ratios = sorted(measured_at)
    return float(np.interp(ratio, ratios, [measured_at[one] for one in ratios]))
