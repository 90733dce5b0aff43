"""The tables of the hearing benchmark, in Markdown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from tests.bench.outcomes import Outcome

__all__ = ["cells", "in_bins", "reliability", "speed"]

BINS = 10
DASH = "-"


def cells(outcomes: Sequence[Outcome]) -> Iterator[str]:
    """One line for each group and condition, and in it four columns for each recogniser.

    A recogniser that was stopped before it heard any case of a cell has no figures there.
    """
    ears = list(dict.fromkeys(one.ear for one in outcomes))
    measures = ("understood", "unclear", "wrong", "swapped")
    heads = measures if len(ears) == 1 else [f"{ear} {one}" for ear in ears for one in measures]
    yield f"| what | condition | cases | {' | '.join(heads)} |"
    yield f"| --- | --- | ---: | {' | '.join(['---:'] * len(heads))} |"
    found: dict[tuple[str, str], dict[str, list[Outcome]]] = {}
    for one in outcomes:
        found.setdefault((one.group, one.condition), {}).setdefault(one.ear, []).append(one)
    for (group, condition), by_ear in found.items():
        figures = [figure for ear in ears for figure in _figures(by_ear.get(ear, []))]
        count = len(by_ear[ears[0]])
        yield f"| {group} | {condition} | {count} | {' | '.join(figures)} |"


def _figures(outcomes: Sequence[Outcome]) -> Iterator[str]:
    verdicts = [one.verdict for one in outcomes]
    replies = sum(one.said is not None for one in outcomes)
    yield f"{100 * verdicts.count('understood') / replies:.1f} %" if replies else DASH
    yield str(verdicts.count("unclear")) if replies else DASH
    yield str(verdicts.count("wrong"))
    yield str(sum(one.swapped for one in outcomes)) if replies else DASH


def reliability(outcomes: Sequence[Outcome]) -> Iterator[str]:
    """In ten bins of stated confidence, how often the best reading was right.

    Readings of what is no reply count as not right.
    """
    read = [one for one in outcomes if one.best is not None]
    stated = np.array([one.confidence for one in read])
    yield from in_bins(stated, np.array([one.best == one.said for one in read]), np.ones(len(read)))


def in_bins(
    stated: NDArray[np.float64], right: NDArray[np.bool_], counted: NDArray[np.float64]
) -> Iterator[str]:
    """Stated confidence and how often it was right, in ten bins.

    Args:
        stated: of each reading, 0 to 1.
        right: whether it was.
        counted: how much each counts.
    """
    yield "| stated confidence | readings | mean stated | right |"
    yield "| --- | ---: | ---: | ---: |"
    bins = np.minimum((stated * BINS).astype(int), BINS - 1)
    for number in range(BINS):
        label = f"{number / BINS:.1f} to {(number + 1) / BINS:.1f}"
        these = bins == number
        if these.any():
            means = (np.average(one[these], weights=counted[these]) for one in (stated, right))
            figures = " | ".join(f"{100 * mean:.0f} %" for mean in means)
            yield f"| {label} | {these.sum()} | {figures} |"
        else:
            yield f"| {label} | 0 | {DASH} | {DASH} |"


def speed(outcomes: Sequence[Outcome]) -> Iterator[str]:
    """For each recogniser how long it takes."""
    yield "| ear | cases | mean length | median time | p95 time | real-time factor |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: |"
    for ear in dict.fromkeys(one.ear for one in outcomes):
        mine = [one for one in outcomes if one.ear == ear]
        taken = np.array([one.taken for one in mine])
        length = np.array([one.seconds for one in mine])
        middle, late = 1000 * np.percentile(taken, (50, 95))
        yield (
            f"| {ear} | {len(mine)} | {length.mean():.1f} s | {middle:.0f} ms | {late:.0f} ms "
            f"| {taken.sum() / length.sum():.2f} |"
        )
