"""The campaign of confusions: one reply a job taken for another that could be said there.

Run by hand: ``python -m tests.campaign.confusion_campaign``. It plays the whole flagship on random
simulated units as it is shipped, and then with nothing read back, and prints what became of the
confusions. Of each unit those are chosen that were played least so far, by kind and step.
"""

from __future__ import annotations

import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

from tests.campaign.confused_jobs import Became, Spot, play_confused, spots_of
from tests.campaign.spread import spread_evenly

__all__ = ["ConfusedCase", "confused_cases", "play_all", "table"]

CONFUSIONS = 3000
WORKERS = 2
A_UNIT = 40


@dataclass(frozen=True, slots=True)
class ConfusedCase:
    """One job to play: the seed of its unit, the confusion, and whether answers are read back."""

    seed: int
    spot: Spot
    reading_back: bool = True


def confused_cases(count: int, *, reading_back: bool = True) -> Iterator[ConfusedCase]:
    """Jobs with one confusion each, spread evenly over kinds and steps."""
    spread = spread_evenly(
        count,
        partial(spots_of, reading_back=reading_back),
        lambda spot: (spot.confusion.what, spot.step),
        A_UNIT,
    )
    return (ConfusedCase(seed, spot, reading_back) for seed, spot in spread)


def _play(case: ConfusedCase) -> Became | None:
    return play_confused(case.seed, case.spot, reading_back=case.reading_back).became


def play_all(cases: list[ConfusedCase]) -> list[tuple[ConfusedCase, Became]]:
    """Play jobs on two processes."""
    with ProcessPoolExecutor(WORKERS) as pool:
        became = pool.map(_play, cases, chunksize=25)
        return [(case, one) for case, one in zip(cases, became, strict=True) if one is not None]


def table(played: Iterable[tuple[ConfusedCase, Became]]) -> str:
    """What became of each kind of confusion, as a table in Markdown."""
    rows: dict[str, Counter[Became]] = defaultdict(Counter)
    for case, became in played:
        rows[case.spot.confusion.what][became] += 1
    lines = [
        f"| confusion | jobs | {' | '.join(Became)} |",
        "| --- | " + "---: | " * (len(Became) + 1),
    ]
    for what, found in sorted(rows.items()):
        counts = " | ".join(str(found[became]) for became in Became)
        lines.append(f"| {what} | {sum(found.values())} | {counts} |")
    return "\n".join(lines)


def main() -> int:
    """Play everything; answers 1 where a confusion ended in a rotor wrong with read-back."""
    bad = 0
    for reading_back in (True, False):
        began = time.monotonic()
        played = play_all(list(confused_cases(CONFUSIONS, reading_back=reading_back)))
        print(f"\n{'As shipped' if reading_back else 'With nothing read back'}:\n")
        print(table(played))
        for case, became in played:
            if became is Became.NOT_CAUGHT:
                print(f"not caught: seed {case.seed}, {case.spot}")
                bad += reading_back
        print(f"\n{time.monotonic() - began:.0f} s on {WORKERS} processes.")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
