"""What going back takes back, in journals that a session wrote."""

from __future__ import annotations

import pytest

from assistant.journal.standing import standing, taken_back
from tests.session.job import TO_READING, Job
from tests.session.test_replay import journal_of
from tests.session.whole_job import at, new_session

BEFORE = "one and two open three and four closed"


def test_the_answer_before_a_step_that_only_tells_is_not_taken_back() -> None:
    # The walk to the reading begins with cranking back, which was told with the answer before.
    entries = journal_of(Job().say(*TO_READING, "one and two open", "both closed", "correct"))
    reading = entries[-1]
    assert list(reading.body["confirmed"]) == ["open-end/read"]
    job = Job().say(*TO_READING, "one and two open", "both closed", "correct", "go back", "yes")
    went_back = journal_of(job)
    assert went_back[-1].body["went_back"] == "open-end/end-back-off"
    gone = taken_back(went_back)
    assert reading.seq in gone
    rotation = reading.seq - 3
    assert list(went_back[rotation - 1].body["confirmed"]) == ["open-end/end-stop"]
    assert rotation not in gone
    assert went_back[-1] in standing(went_back)


@pytest.mark.parametrize("answers", range(1, len(TO_READING) + 1))
def test_going_back_takes_back_the_last_answer_and_none_before_it(answers: int) -> None:
    job = Job().say(*TO_READING[:answers])
    confirmed = [entry.seq for entry in journal_of(job) if entry.body.get("confirmed")]
    entries = journal_of(job.say("go back", "yes"))
    gone = taken_back(entries)
    assert [seq for seq in confirmed if seq in gone] == confirmed[-1:]


@pytest.mark.parametrize("times", [1, 2])
def test_going_back_through_a_loop_takes_back_its_last_round_first(times: int) -> None:
    """A trip that was off is looked for once more: the same steps, gone through twice.

    It was counted from the stop, where the valve stands no more: a round goes as a whole.
    """
    job = at("prove-open/before")
    before = len(job.history)
    for turns in ("three turns", "one turn"):
        job.say(BEFORE, "correct", f"mark {turns}", "correct")
    told = journal_of(job, new_session())[before:]
    confirmed = [one.seq for one in told if one.body.get("confirmed")]
    assert len(confirmed) == 4
    for _ in range(times):
        job.say("go back", "yes")
    gone = taken_back(journal_of(job, new_session()))
    assert [seq for seq in confirmed if seq not in gone] == confirmed[: 4 - 2 * times]
