"""Lines of the journal in words: runs as such, and of many the first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

__all__ = ["lines_in_words"]

_MOST_TOLD = 3
"""Lines, or runs of them, that are named."""

_SHORTEST_RUN = 3
"""Lines that follow one another and are told as a run; of two both are named."""


def lines_in_words(seqs: Sequence[int]) -> str:
    """The numbers of lines, at least one, in their order.

    >>> lines_in_words([94]), lines_in_words([18, 76])
    ('line 94', 'lines 18 and 76')
    >>> lines_in_words(range(2, 91)), lines_in_words([3, 18, 76, 80, 81])
    ('lines 2 to 90', 'lines 3, 18, 76 and 2 more')
    """
    runs = list(_runs(seqs))
    told = [str(one) if one == last else f"{one} to {last}" for one, last in runs[:_MOST_TOLD]]
    if more := sum(last - one + 1 for one, last in runs[_MOST_TOLD:]):
        told.append(f"{more} more")
    *others, end = told
    words = f"{', '.join(others)} and {end}" if others else end
    return f"line {words}" if len(seqs) == 1 else f"lines {words}"


def _runs(seqs: Sequence[int]) -> Iterator[tuple[int, int]]:
    """The first and the last of each run; a line that is in none is both."""
    start = 0
    for end in range(1, len(seqs) + 1):
        if end < len(seqs) and seqs[end] == seqs[end - 1] + 1:
            continue
        if end - start >= _SHORTEST_RUN:
            yield seqs[start], seqs[end - 1]
        else:
            yield from ((one, one) for one in seqs[start:end])
        start = end
