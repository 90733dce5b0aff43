"""Who says hold in a hold, or while it is being closed, hears again what that hold forbids.

What a hold forbids is forbidden until it was closed: common practice, no source.
"""

from __future__ import annotations

import pytest

from assistant.session.effects import Held
from tests.session.job import Job
from tests.session.whole_job import at

LEAVE_IT = "Something is wrong. Leave the rod as it is, do not crank. On hold."
LOCK_OFF = "Push stop. Lock off before you reach in. You said hold. On hold."


def held_by_the_procedure() -> Job:
    return at("open-end/set/turn").say("none")


def held_with_the_supply_on() -> Job:
    return at("test/jog").say("hold")


@pytest.mark.parametrize(
    "before",
    [
        (),
        ("hold",),
        ("take a note",),
        ("carry on",),
        ("carry on", "the gear slipped"),
        ("carry on", "the gear slipped", "yes"),
    ],
)
def test_in_a_hold_of_the_procedure(before: tuple[str, ...]) -> None:
    job = held_by_the_procedure().say(*before, "hold")
    assert LEAVE_IT in job.said
    assert "You said hold" not in job.said
    assert job.session.held


@pytest.mark.parametrize("before", [(), ("hold",), ("take a note",), ("go back",)])
def test_in_a_hold_with_the_supply_on(before: tuple[str, ...]) -> None:
    job = held_with_the_supply_on().say(*before, "hold")
    assert LOCK_OFF in job.said
    assert job.session.held


def test_it_is_the_same_hold() -> None:
    job = held_by_the_procedure().say("hold")
    assert not job.all_of(Held)
    assert job.say("carry on").said == "Say what was found, and what was done."
