"""A slice of the error campaign; the whole of it is run by hand, see `tests.campaign.campaign`.

What must hold is this project's goal: no job ends done with a rotor inverted or more than the
tolerance off. The mechanism and its errors are common practice, no source.
"""

from __future__ import annotations

import pytest

from assistant.rig.mistakes import Mistake, MistakeKind
from tests.campaign.campaign import Case, cases, play_all
from tests.campaign.jobs import Caught, play_job

SLICE = 500
SEED = 3
"""A unit whose open rotor is found far out and has not changed over yet."""


def test_no_fault_free_job_is_held_or_ends_with_a_rotor_wrong() -> None:
    for report in play_all(Case(seed, None) for seed in range(SLICE)):
        assert report.finished, report
        assert not report.held, report
        assert not report.wrong, report


def test_no_single_error_ends_done_with_a_rotor_wrong() -> None:
    reports = play_all(list(cases(SLICE)))
    assert sum(report.made for report in reports) > SLICE * 0.95
    assert {report.mistake.kind for report in reports if report.mistake} == set(MistakeKind)
    assert [report for report in reports if report.caught is Caught.HARMFUL] == []


@pytest.mark.parametrize(
    ("kind", "step", "caught"),
    [
        (MistakeKind.WRONG_SHEET, "", Caught.BEFORE_THE_NEXT_CRANK),
        (MistakeKind.REVISION_DIFFERS, "", Caught.BEFORE_THE_NEXT_CRANK),
        (MistakeKind.ROD_LEFT_OUT, "open-end/set/engage", Caught.BEFORE_THE_NEXT_CRANK),
        (MistakeKind.MISREAD, "open-end/set/read", Caught.BEFORE_THE_NEXT_CRANK),
        (MistakeKind.WRONG_WAY, "open-end/set/turn", Caught.AT_THE_PROOF),
        (MistakeKind.HALF_ENGAGED, "open-end/set/engage", Caught.AT_THE_PROOF),
        (MistakeKind.WRONG_LAMP, "test/lamps-in-travel", Caught.BEFORE_THE_NEXT_CRANK),
    ],
)
def test_when_an_error_is_noticed(kind: MistakeKind, step: str, caught: Caught) -> None:
    report = play_job(SEED, Mistake(kind, step))
    assert report.made
    assert report.caught is caught
