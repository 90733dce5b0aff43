from __future__ import annotations

import pytest

from assistant.trade import allowed_hours


# 29 CFR 1910.95, table G-16.
@pytest.mark.parametrize(("level", "hours"), [(90, 8), (95, 4), (100, 2), (115, 0.25)])
def test_hours_of_the_table(level: float, hours: float) -> None:
    assert allowed_hours(level) == pytest.approx(hours)


# The same, appendix A, table G-16a: reference durations, to a tenth of an hour.
@pytest.mark.parametrize(
    ("level", "hours"),
    [(80, 32), (81, 27.9), (82, 24.3), (83, 21.1), (84, 18.4), (85, 16), (86, 13.9), (92, 6.1)],
)
def test_reference_durations(level: float, hours: float) -> None:
    assert round(allowed_hours(level), 1) == hours


@pytest.mark.parametrize("level", [79.9, 130.1, float("nan"), float("inf")])
def test_beyond_the_tables_nothing_is_told(level: float) -> None:
    with pytest.raises(ValueError, match="80 to 130"):
        allowed_hours(level)
