"""How long a person may be in noise."""

from __future__ import annotations

__all__ = ["allowed_hours"]

_QUIETEST, _LOUDEST = 80.0, 130.0


def allowed_hours(level_dba: float) -> float:
    """Hours a day that a person may be in a noise: T = 8 / 2^((L - 90) / 5).

    29 CFR 1910.95, table G-16, and the reference durations of table G-16a in its appendix A. It
    counts noise of 80 dBA and above; the formula is used up to 130 dBA here.

    Args:
        level_dba: A-weighted sound level, slow response [dB].

    Raises:
        ValueError: the level lies outside 80 to 130 dBA.

    >>> [allowed_hours(level) for level in (90, 95, 100, 115)]
    [8.0, 4.0, 2.0, 0.25]
    """
    if not _QUIETEST <= level_dba <= _LOUDEST:
        raise ValueError(f"No hours are laid down for {level_dba} dBA: give 80 to 130.")
    return float(8 / 2 ** ((level_dba - 90) / 5))
