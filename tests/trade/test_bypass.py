from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.trade import Place, UnitError, ends_early
from tests.units import CLOSED, KF_07, KF_12, OPEN


@pytest.mark.parametrize(
    ("opens_at", "unseated_at", "early"),
    [
        # A bypass that ended before the disk left its seat kept valves shut: IE Circular 77-01.
        (1.5, 2, True),
        (1.5, 1.75, True),
        (2, 2, False),
        (2.5, 2, False),
    ],
)
def test_a_bypass_holds_until_the_disk_has_left_its_seat(
    opens_at: float, unseated_at: float, *, early: bool
) -> None:
    assert ends_early(opens_at, unseated_at) is early


@pytest.mark.parametrize("contact", [5, 6])
def test_a_contact_closed_only_near_the_closed_end_can_bypass(contact: int) -> None:
    # Contact 5 closed only near the closed end: common practice, no source.
    assert replace(KF_07, bypass=contact).bypass == contact
    assert KF_07.bypass is None


@pytest.mark.parametrize(
    ("contact", "essence"),
    [
        (1, "closed at the closed end"),  # closed at the open end
        (3, "open from mid-travel on"),  # closed nearly all the way
        (7, "closed at the closed end"),  # open at the closed end
        (13, "open from mid-travel on"),  # closed below 60 %
        (17, "no line"),
    ],
)
def test_another_contact_cannot(contact: int, essence: str) -> None:
    with pytest.raises(UnitError, match=essence) as refused:
        replace(KF_12, bypass=contact)
    assert [fault.path for fault in refused.value.faults] == [("bypass-contact",)]


def test_a_bypass_on_no_rotor_is_refused() -> None:
    rotors = (OPEN, replace(CLOSED, contacts=(6, 7, 8), place=Place.CLOSED_END))
    with pytest.raises(UnitError, match="contact 5 is on no rotor"):
        replace(KF_07, rotors=rotors, bypass=5)
