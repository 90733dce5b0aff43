from __future__ import annotations

import math

import pytest

from assistant.trade import SHAFT_LIMIT_RPM, least_seconds, rpm, too_fast


def test_limit() -> None:
    assert SHAFT_LIMIT_RPM == 200  # Common practice, no source.
    assert not too_fast(200)
    assert too_fast(200.1)
    assert too_fast(math.nan)


def test_ten_turns_in_2_9_seconds() -> None:
    assert round(rpm(10, 2.9)) == 207  # Arithmetic: 600 / 2.9, rounded.
    assert too_fast(rpm(10, 2.9))


@pytest.mark.parametrize(("revolutions", "seconds"), [(0, 0), (10, 3), (200, 60)])  # Arithmetic.
def test_least_time(revolutions: float, seconds: float) -> None:
    assert least_seconds(revolutions) == pytest.approx(seconds)


@pytest.mark.parametrize("turns", [-1, math.nan, math.inf])
def test_turns_that_cannot_be_counted_are_refused(turns: float) -> None:
    with pytest.raises(ValueError, match="give 0 or more"):
        least_seconds(turns)
    with pytest.raises(ValueError, match="give 0 or more"):
        rpm(turns, 1)


@pytest.mark.parametrize("seconds", [0, -1, math.nan, math.inf])
def test_time_that_gives_no_speed_is_refused(seconds: float) -> None:
    with pytest.raises(ValueError, match="give a time"):
        rpm(1, seconds)
