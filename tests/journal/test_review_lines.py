"""Lines of a second person that nobody's review wrote: what is wrong with each is told."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from assistant.journal.chain import Level
from assistant.journal.entry import FORMAT_4, Entry, opening
from assistant.journal.review_lines import check_reviews
from assistant.journal.verdicts import (
    READ_MEANING,
    compared,
    counts_of,
    judged,
    signed,
    verdicts_by,
)
from tests.journal.chained import chained

Body = Mapping[str, Any]

PAPERS = {"technician": "RV", "checker": "JT"}


def read(step: str, **more: Any) -> Body:
    heard = {"engine": "typed", "text": "x"}
    reading = {"contacts": {"1": "open"}}
    meant = {"heard": heard, "meant": reading, "confirmed": {step: reading}}
    return {"kind": "heard", "step": step, **meant, **more}


READINGS = (read("a"), read("b", finished=True))


def journal(*bodies: Body, readings: tuple[Body, ...] = READINGS) -> list[Entry]:
    return chained((opening({"papers": PAPERS}, {}, {}, {}, "t"), *readings, *bodies))


def verdict(of: int, step: str, by: str = "JT") -> dict[str, Any]:
    return judged(of, step, by, agrees=True, meaning=READ_MEANING)


def review(by: str = "JT", **other: Any) -> list[dict[str, Any]]:
    """Two verdicts and the signature for them, but for the fields given."""
    verdicts = [verdict(2, "a", by), verdict(3, "b", by)]
    counts = counts_of(verdicts_by(journal(*verdicts), by).values())
    return [*verdicts, {**signed(by, counts), **other}]


def faults(*bodies: Body, **more: Any) -> list[tuple[int, str]]:
    problems = check_reviews(journal(*bodies, **more))
    return [(problem.line, problem.what) for problem in problems if problem.level is Level.ERROR]


CHECK = compared("AB", "0" * 64, [])
POINT = {"what": "x", "agrees": True}


def test_a_review_as_it_is_written_is_sound() -> None:
    assert not faults(*review())
    assert not faults(*review(), {**CHECK, "points": [POINT], "agrees": True})


@pytest.mark.parametrize(
    ("forged", "essence"),
    [
        ([verdict(99999, "a")], "judges line 99999 at 'a', and no confirmation stands there"),
        ([verdict(2, "b")], "judges line 2 at 'b'"),
        ([verdict(1, "a")], "judges line 1"),
        ([{**verdict(2, "a"), "of": None}], "judges line None"),
        ([{**verdict(2, "a"), "agrees": "yes"}], "does not say whether it agrees"),
        ([verdict(2, "a", "")], "names nobody"),
        ([{"kind": "reviewed"}], "names nobody"),
        ([verdict(2, "a", "r.v.")], "the technician of the job"),
        ([*review(agreed=999)], "signed for 999 agreed, 0 disagreed, 0 heard, 2 read"),
        ([*review(heard=2, read=0)], "the verdicts before it are 2 agreed, 0 disagreed, 0 heard"),
        ([review()[0], review()[2]], "has not judged line 3"),
        ([{"kind": "reviewed", "by": "JT", "agreed": 0, "disagreed": 0}], "not judged line 2"),
        ([{**CHECK, "with_root": "x", "points": [POINT]}], "does not name the root"),
        ([{**CHECK, "points": [{**POINT, "agrees": False}]}], "does not follow from them"),
        ([{**CHECK, "points": []}], "does not follow from them"),
    ],
)
def test_what_no_review_writes_is_an_error_of_its_line(forged: list[Body], essence: str) -> None:
    found = faults(*forged)
    assert any(essence in what for _, what in found), found
    assert {line for line, _ in found} <= {4, 5, 6}


def test_the_same_check_is_not_compared_twice() -> None:
    check, other = ({**CHECK, "points": [POINT], "agrees": True, "with_root": n * 64} for n in "01")
    assert not faults(check, other)
    assert faults(check, other, check) == [(6, "it compares again with the check of line 4")]
    opened = {**opening({"papers": PAPERS}, {}, {}, {}, "t"), "format": FORMAT_4}
    older = check_reviews(chained((opened, *READINGS, check, check)))
    (problem,) = older  # older programs did, when asked to
    assert (problem.line, problem.level) == (5, Level.NOTICE)
    assert "take the readings anew" in problem.remedy


def test_nothing_is_signed_of_a_job_that_is_not_at_its_end() -> None:
    found = faults(*review(), readings=(read("a"), read("b")))
    assert found == [(6, "a review is signed of a job that is not at its end")]


def test_the_first_reviews_count_as_they_did() -> None:
    """Anybody's last verdict cleared a line, and what was heard and read was not told apart."""
    first = [{**one, "meaning": "heard"} for one in (verdict(2, "a"), verdict(3, "b"))]
    other = {**first[0], "by": "ZZ", "agrees": False}
    told = {"kind": "reviewed", "by": "JT", "agreed": 2, "disagreed": 1}
    assert not faults(*first, other, told)
    assert faults(*first, other, {**told, "disagreed": 0})


def test_what_was_called_heard_and_has_no_recording_is_a_notice() -> None:
    first = judged(2, "a", "JT", agrees=True)
    (problem,) = check_reviews(journal(first))
    assert (problem.line, problem.level) == (4, Level.NOTICE)
    assert "the recording of line 2 was heard, and there is none" in problem.what
