"""The direction as the technician hears it: the rows of the direction table, spoken.

Source of every row: common practice, no source.
"""

from __future__ import annotations

import pytest

from assistant.session.effects import Say
from tests.session.job import TO_READING, Job

READINGS = {
    "open-end": {
        "no": "one and two open three and four closed",
        "yes": "one and two closed three and four open",
    },
    "closed-end": {
        "no": "five and six open seven and eight closed",
        "yes": "five and six closed seven and eight open",
    },
}
TURN = ("mark", "mark three", "correct")
TURNED = ("done", *TURN)
OPEN_END_DONE = (*TURNED, READINGS["open-end"]["yes"], "correct", "locked")


@pytest.mark.parametrize(
    ("end", "past", "seen", "turn"),
    [
        ("open-end", "no", "counterclockwise", "counterclockwise"),
        ("open-end", "no", "clockwise", "clockwise"),
        ("open-end", "yes", "counterclockwise", "clockwise"),
        ("open-end", "yes", "clockwise", "counterclockwise"),
        ("closed-end", "no", "clockwise", "clockwise"),
        ("closed-end", "no", "counterclockwise", "counterclockwise"),
        ("closed-end", "yes", "clockwise", "counterclockwise"),
        ("closed-end", "yes", "counterclockwise", "clockwise"),
    ],
)
def test_every_row_of_the_table(end: str, past: str, seen: str, turn: str) -> None:
    job = Job().say(*TO_READING[:-2])
    if end == "closed-end":
        job.say("clockwise", "correct", READINGS["open-end"]["no"], "correct")
        job.say(*OPEN_END_DONE)
    job.say(seen, "correct", READINGS[end][past], "correct")
    assert ("Changed over already" in job.said) is (past == "yes")
    assert job.say("done").session.step == f"{end}/begin"
    assert f"shaft {turn}" in job.said
    assert "Never above two hundred turns a minute" in job.said
    job.say(*TURN)
    if past == "yes":
        back = {"clockwise": "counterclockwise", "counterclockwise": "clockwise"}[turn]
        assert f"shaft {back}" in job.said
        job.say("mark")
    assert job.session.step == f"{end}/check-left"


def test_what_was_found_is_no_condition_of_the_work_that_follows() -> None:
    """Asked again the work may be done already; what the contacts showed is so anyhow."""
    job = Job().say(*TO_READING, READINGS["open-end"]["yes"], "correct")
    assert [effect.text for effect in job.effects if isinstance(effect, Say)] == [
        "Changed over already.",
        "If the setting rod is engaged, press it and turn it, to disengage. Say done when the "
        "shafts are free.",
    ]
    job.say("say again")
    assert job.said.startswith("If it is not done yet: If the setting rod is engaged, press it")


def test_a_contradiction_gives_no_direction_is_asked_again_and_then_holds() -> None:
    job = Job().say(*TO_READING)
    job.say("one closed two open three and four open", "correct")
    assert job.session.step == "open-end/read-once-more"
    assert "contradiction" in job.said
    assert "clockwise" not in job.said
    job.say("one closed two open three and four open", "correct")
    assert job.held
    assert "clockwise" not in job.said
    job.say("carry on", "a lamp was in the way", "yes", "technician")
    assert job.session.step == "open-end/read-again"


def test_a_shaft_that_moves_after_engaging_is_engaged_again_at_most_twice() -> None:
    job = Job().say(*TO_READING, READINGS["open-end"]["no"], "correct")
    job.say(*TURNED, READINGS["open-end"]["yes"], "correct")
    for _ in range(2):
        job.say("free")
        assert job.session.step == "open-end/check-left"
        assert "Do not crank, do not energise" in job.said
        job.say(READINGS["open-end"]["yes"], "correct")
    job.say("free")
    assert job.held


def test_contacts_that_are_not_as_drawn_do_not_let_the_drive_be_engaged() -> None:
    job = Job().say(*TO_READING, READINGS["open-end"]["no"], "correct", *TURNED)
    job.say(READINGS["open-end"]["no"], "correct")
    assert job.session.step == "open-end/look-again"
    # Who is told what is expected reads it (Degani & Wiener, NASA CR-177549).
    assert "one and two closed" not in job.said
