"""A slice of the campaign of confusions; the whole is run by hand, see `confusion_campaign`.

What must hold is this project's goal: no confusion of one reply ends in a rotor set wrong.
"""

from __future__ import annotations

from collections import Counter

from tests.campaign.confused_jobs import Became
from tests.campaign.confusion_campaign import ConfusedCase, confused_cases, play_all

SLICE = 250


def test_no_single_confusion_ends_done_with_a_rotor_wrong() -> None:
    played = play_all(list(confused_cases(SLICE)))
    assert [case for case, became in played if became is Became.NOT_CAUGHT] == []
    found: dict[str, Counter[Became]] = {}
    for case, became in played:
        found.setdefault(case.spot.confusion.what, Counter())[became] += 1
    # What is read back is noticed there, by the person, and nowhere else.
    for what in ("open, closed", "clockwise, counterclockwise", "a number for another", "lamps"):
        assert set(found[what]) == {Became.READ_BACK}


def test_with_nothing_read_back_the_same_confusions_have_to_be_caught_later() -> None:
    cases: list[ConfusedCase] = list(confused_cases(SLICE // 2, reading_back=False))
    became = Counter(one for _, one in play_all(cases))
    assert became[Became.READ_BACK] == 0
    assert became[Became.LATER] > 0
