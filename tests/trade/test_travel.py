from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.trade import (
    Place,
    Rotor,
    Seating,
    Sourced,
    Travel,
    TravelError,
    Unit,
    back_off,
    reference,
    to_percent,
    to_turns,
)
from tests.units import CLOSED, KF_07, OPEN, above, below

# Half a turn and two turns of 62 are 0.81 and 3.2 % (arithmetic).
SEATED_ON_POSITION = replace(
    KF_07,
    seating=Seating.POSITION,
    development=replace(
        KF_07.development,
        closed={
            **KF_07.development.closed,
            **dict.fromkeys((5, 6), below(0.8)),
            **dict.fromkeys((7, 8), above(0.8)),
        },
    ),
)
BACKED_OFF_BY_TWO = replace(
    KF_07,
    back_off_open=Sourced(2, "turns", "site procedure"),
    development=replace(
        KF_07.development,
        closed={
            **KF_07.development.closed,
            **dict.fromkeys((1, 2), above(96.8)),
            **dict.fromkeys((3, 4), below(96.8)),
        },
    ),
)


@pytest.mark.parametrize(
    ("unit", "rotor", "turns", "toward"),
    [
        # Common practice, no source.
        (KF_07, OPEN, 1, Travel.CLOSING),
        (SEATED_ON_POSITION, OPEN, 1, Travel.CLOSING),
        (KF_07, CLOSED, 1.5, Travel.OPENING),
        (SEATED_ON_POSITION, CLOSED, 0.5, Travel.OPENING),
    ],
)
def test_back_off_by_place_and_seating(
    unit: Unit, rotor: Rotor, turns: float, toward: Travel
) -> None:
    away = back_off(unit, rotor)
    assert (away.turns.value, away.toward) == (turns, toward)
    assert away.turns.origin == "common practice"


def test_site_procedure_overrides_the_back_off() -> None:
    assert back_off(BACKED_OFF_BY_TWO, OPEN).turns.value == 2
    assert back_off(BACKED_OFF_BY_TWO, OPEN).turns.origin == "site procedure"


def test_rotor_in_mid_travel_has_no_back_off() -> None:
    middle = replace(OPEN, place=Place.TRAVEL)
    unit = replace(KF_07, rotors=(middle, CLOSED))
    with pytest.raises(TravelError, match=r"open is not set at an end: crank to 98\.4 %"):
        back_off(unit, middle)
    assert reference(unit, middle) == 98.4


def test_reference_is_the_stop_less_the_back_off() -> None:
    # Arithmetic: 61/62 and 1.5/62 of the stroke.
    assert reference(KF_07, OPEN) == pytest.approx(100 * 61 / 62)
    assert reference(KF_07, CLOSED) == pytest.approx(100 * 1.5 / 62)


@pytest.mark.parametrize(
    ("percent", "stroke", "turns"),
    [(25, 48, 12), (60, 48, 28.8), (0, 48, 0), (100, 48, 48)],  # Arithmetic.
)
def test_percent_and_turns(percent: float, stroke: float, turns: float) -> None:
    assert to_turns(percent, stroke) == pytest.approx(turns)
    assert to_percent(turns, stroke) == pytest.approx(percent)


@settings(deadline=None)
@given(st.floats(-100, 100), st.floats(1, 1e4))
def test_percent_survives_the_way_to_turns_and_back(percent: float, stroke: float) -> None:
    assert to_percent(to_turns(percent, stroke), stroke) == pytest.approx(percent)


@pytest.mark.parametrize("stroke", [0, -48, math.nan, math.inf])
def test_impossible_stroke_is_refused(stroke: float) -> None:
    with pytest.raises(TravelError, match="full stroke"):
        to_turns(25, stroke)
    with pytest.raises(TravelError, match="full stroke"):
        to_percent(12, stroke)


@pytest.mark.parametrize("amount", [math.nan, math.inf])
def test_amount_that_is_none_is_refused(amount: float) -> None:
    with pytest.raises(TravelError, match="no amount of travel"):
        to_turns(amount, 48)
    with pytest.raises(TravelError, match="no amount of travel"):
        to_percent(amount, 48)
