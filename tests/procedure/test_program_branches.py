"""A branch says where to go for every text that its value can be, and for no other."""

from __future__ import annotations

import pytest

from tests.procedure.refusals import assert_refused, load, steps

CHOICE = (
    "  - step: ask\n    say: Which?\n    ask: choice\n    choices: [left, right]\n    into: side\n"
)
DONE = "  - step: ask-too\n    say: Do it.\n    ask: done\n    into: side\n"


def branch(on: str, go: str) -> str:
    return f"  - step: turn\n    branch: {on}\n    go: {go}\n"


@pytest.mark.parametrize(
    ("sample", "essence"),
    [
        (CHOICE + branch("¶side", "{left: finish}"), "can be 'right'"),
        (CHOICE + branch("side", "{left: finish, right: finish, up: ¶finish}"), "never 'up'"),
        (branch("¶unit.seating", "{torque: finish}"), "can be 'position'"),
        (branch("¶unit.service", "{pump: finish}"), "can be any text"),
        (branch("¶unit.stroke", "{long: finish}"), "can be any text"),
        (CHOICE + DONE + branch("¶side", "{left: finish, right: finish}"), "can be 'done'"),
    ],
)
def test_a_branch_that_does_not_cover_its_value(sample: str, essence: str) -> None:
    essences = (essence, "the kind text is needed") if "stroke" in sample else (essence,)
    sample = sample.replace("¶unit.stroke", "¶¶unit.stroke")
    assert_refused(steps(sample), *essences)


def test_a_branch_that_covers_its_value() -> None:
    program = load(steps(CHOICE + branch("side", "{left: finish, right: finish}")))
    assert program.nodes["turn"].targets == {"left": "finish", "right": "finish"}
    program = load(steps(branch("unit.seating", "{torque: finish, position: finish}")))
    assert program.nodes["turn"].targets == {"torque": "finish", "position": "finish"}
