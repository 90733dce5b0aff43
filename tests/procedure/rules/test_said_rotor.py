"""Another rotor that is said than is turned, watched or read, in the shipped parts.

That a shaft turned in place of another spoils a rotor that was right is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.procedure.rules.mutants import Mutant, judged
from tests.procedure.shipped import PROCEDURES

FLAGSHIP, SET = "set-geared-limits.yaml", "parts/set-rotor.yaml"
BEGIN = "as you begin to turn the {rotor.name} shaft"
TURN = "Turn the {rotor.name} shaft {advice.turn}. Say mark and"
ON = "Turn the {rotor.name} shaft {advice.back}"
READ = "say: Read contacts {rotor.contacts}."


def found(old: str, new: str) -> list[str]:
    """What the rule says once the shipped part was changed."""
    text = (PROCEDURES / SET).read_text(encoding="utf-8")
    assert old in text
    verdict = judged("said-rotor", Mutant(FLAGSHIP, SET, "", {SET: text.replace(old, new, 1)}))
    assert not verdict.refused
    return [problem.message for problem in verdict.found("said-rotor")]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (BEGIN, BEGIN.replace("{rotor.name}", "open")),
        (TURN, TURN.replace("{rotor.name}", "open")),
        (ON, ON.replace("{rotor.name}", "third")),
        (TURN, TURN.replace("{rotor.name} ", "")),
        ("watch the {rotor.name} shaft", "watch the closed shaft"),
        ("watch the {rotor.name} shaft", "watch the shaft"),
        (READ, "say: Read contacts {unit.contacts}."),
        (READ, "say: Read all contacts."),
        ("of: rotor.contacts", "of: unit.contacts"),
    ],
)
def test_another_rotor_or_none_is_found(old: str, new: str) -> None:
    assert found(old, new)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (TURN, TURN.replace("{advice.turn}", "{advice.turn}, not toward open")),
        (READ, "say: At the open stop, read contacts {rotor.contacts}."),
        (READ, "say: Read the contacts of the {rotor.name} rotor."),
        (READ, "say: Read contacts {rotor.contacts}, each open or closed."),
    ],
)
def test_what_names_no_rotor_is_not_taken_for_one(old: str, new: str) -> None:
    assert not found(old, new)


def test_the_message_names_the_rotor_that_is_meant() -> None:
    (message,) = set(found(TURN, TURN.replace("{rotor.name}", "open")))
    assert "'open shaft' is said, and 'turn-shaft' is told 'rotor'" in message
    assert "say 'the {rotor.name} shaft'" in message
