"""Another person, later, apart, who has not seen the first answers: DOE-STD-1036-93 and
DOE-EM-STD-5505-96, 6.10. The people are invented."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from assistant.trade import Visit, independence_faults

FIRST = Visit("R. Amsel", "2031-05-14T08:00:00.000Z", "2031-05-14T09:30:00.000Z", had_seen=False)
LATER = Visit("J. Kranich", "2031-05-14T09:30:00.000Z", "2031-05-14T10:00:00.000Z", had_seen=False)


def test_another_person_later_who_has_not_seen_the_answers() -> None:
    assert independence_faults(FIRST, LATER) == ()


@pytest.mark.parametrize("person", ["R. Amsel", "r amsel", "R.AMSEL", " R-Amsel ", "R. \u00c4msel"])
def test_the_same_person_however_the_name_is_written(person: str) -> None:
    (fault,) = independence_faults(FIRST, replace(LATER, person=person))
    assert "another person" in fault


@pytest.mark.parametrize(
    ("begun", "ended"),
    [
        ("2031-05-14T09:29:59.999Z", "2031-05-14T10:00:00.000Z"),  # overlapping
        ("2031-05-14T08:10:00.000Z", "2031-05-14T08:20:00.000Z"),  # within
        ("2031-05-14T06:00:00.000Z", "2031-05-14T07:00:00.000Z"),  # before
        ("2031-05-14T09:29:59Z", "2031-05-14T10:00:00Z"),  # without fractions
    ],
)
def test_a_check_that_began_before_the_first_had_ended(begun: str, ended: str) -> None:
    (fault,) = independence_faults(FIRST, replace(LATER, begun=begun, ended=ended))
    assert "before the first had ended" in fault


def test_times_are_compared_as_times_and_not_as_text() -> None:
    # As text, "...00Z" comes after "...00.000Z".
    first = replace(FIRST, ended="2031-05-14T09:30:00Z")
    assert independence_faults(first, LATER) == ()


def test_answers_that_were_shown() -> None:
    (fault,) = independence_faults(FIRST, replace(LATER, had_seen=True))
    assert "had seen the first answers" in fault
    assert independence_faults(replace(FIRST, had_seen=True), LATER) == ()


def test_every_fault_is_told() -> None:
    assert len(independence_faults(FIRST, replace(FIRST, had_seen=True))) == 3


@pytest.mark.parametrize(
    ("changes", "essence"),
    [
        ({"person": " . "}, "names nobody"),
        ({"begun": "14.5.2031 8:00"}, "looks like"),
        ({"begun": "2031-05-14T08:00:00+02:00"}, "looks like"),
        ({"ended": "2031-13-14T08:00:00Z"}, "no time of any calendar"),
        ({"ended": "2031-05-14T07:59:59Z"}, "cannot end"),
    ],
)
def test_a_visit_that_cannot_be_is_refused(changes: dict[str, Any], essence: str) -> None:
    with pytest.raises(ValueError, match=essence):
        replace(FIRST, **changes)
