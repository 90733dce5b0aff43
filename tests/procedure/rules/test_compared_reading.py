"""What a rotor that was set is compared with, in the shipped part; common practice, no source."""

from __future__ import annotations

import pytest

from tests.procedure.rules.mutants import Mutant, judged
from tests.procedure.shipped import PROCEDURES

FLAGSHIP, SET = "set-geared-limits.yaml", "parts/set-rotor.yaml"
GIVEN = "{expected: advice.leave, reading: left}"


def found(given: str) -> list[str]:
    """What the rule says where the comparison is given something else."""
    text = (PROCEDURES / SET).read_text(encoding="utf-8")
    assert GIVEN in text
    verdict = judged(
        "compared-reading", Mutant(FLAGSHIP, SET, "", {SET: text.replace(GIVEN, given)})
    )
    assert not verdict.refused
    return [problem.message for problem in verdict.found("compared-reading")]


@pytest.mark.parametrize(
    ("given", "tells"),
    [
        ("{expected: left, reading: left}", "compared with itself"),
        ("{expected: left, reading: advice.leave}", "was not read"),
        ("{expected: rotor.before, reading: left}", "before the trip"),
        ("{expected: advice.leave, reading: rotor.before}", "was not read"),
        ("{expected: advice.leave, reading: found}", "after 'found' was read"),
    ],
)
def test_what_shows_nothing_is_found(given: str, tells: str) -> None:
    assert any(tells in message for message in found(given))


@pytest.mark.parametrize(
    "given", [GIVEN, "{expected: rotor.drawn, reading: left}", "{expected: found, reading: left}"]
)
def test_what_shows_something_is_not(given: str) -> None:
    assert found(given) == []
