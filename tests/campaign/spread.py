"""Choose what to try in a campaign: of each random unit what was tried least so far."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator
from typing import TypeVar

__all__ = ["spread_evenly"]

_Tried = TypeVar("_Tried")


def spread_evenly(
    count: int,
    possible: Callable[[int], Iterable[_Tried]],
    place: Callable[[_Tried], Hashable],
    most: int,
) -> Iterator[tuple[int, _Tried]]:
    """What to try, with the seed of its unit, spread evenly over places.

    Args:
        count: how many.
        possible: from the seed of a unit to what can be tried on it.
        place: where that is, and of what kind.
        most: how many on one unit.
    """
    tried: Counter[Hashable] = Counter()
    given = 0
    for seed in range(count):
        ways = list(possible(seed))
        random.Random(seed).shuffle(ways)
        ways.sort(key=lambda way: tried[place(way)])
        for way in ways[:most]:
            tried[place(way)] += 1
            yield seed, way
            given += 1
            if given == count:
                return
