"""Numbers that a procedure may take from a unit; how far to look is common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.meaning import Quantity
from assistant.procedure.values import FIELDS, Kind
from assistant.trade.sheet import Sourced
from tests.units import KF_07


def of_unit(field: str, cycle: float | None) -> Quantity:
    """The field, of a unit whose shafts change over once in so many revolutions."""
    known = None if cycle is None else Sourced(cycle, "revolutions", "invented")
    number = FIELDS[Kind.UNIT][field].read(replace(KF_07, cycle_revolutions=known))
    assert isinstance(number, Quantity)
    return number


@pytest.mark.parametrize(("cycle", "revolutions"), [(55.0, 57.0), (7.5, 9.5), (None, 300.0)])
def test_a_change_over_is_looked_for_in_a_cycle_and_two_revolutions(
    cycle: float | None, revolutions: float
) -> None:
    assert of_unit("search", cycle) == Quantity(revolutions, "revolutions")


@given(st.none() | st.floats(0.25, 500))
def test_every_count_of_the_search_can_be_believed(cycle: float | None) -> None:
    assert of_unit("search", cycle).value <= of_unit("most-revolutions", cycle).value


def test_a_count_half_a_cycle_too_long_can_still_be_told() -> None:
    assert of_unit("most-revolutions", 55.0).value == 82.5
