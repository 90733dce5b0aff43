"""The tables of the hearing benchmark, in Markdown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from tests.bench.outcomes import Outcome

__all__ = ["cells", "reliability", "speed"]

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
    yield "| stated confidence | readings | mean stated | right |"
    yield "| --- | ---: | ---: | ---: |"
    read = [one for one in outcomes if one.best is not None]
    for number in range(BINS):
        inside = [one for one in read if min(int(one.confidence * BINS), BINS - 1) == number]
        label = f"{number / BINS:.1f} to {(number + 1) / BINS:.1f}"
        if inside:
            stated = np.mean([one.confidence for one in inside])
            right = np.mean([one.best == one.said for one in inside])
            yield f"| {label} | {len(inside)} | {100 * stated:.0f} % | {100 * right:.0f} % |"
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
