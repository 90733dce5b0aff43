"""Moments and counts of something else than is timed, in the shipped parts.

That a speed is that of the turn between the two moments is arithmetic.
"""

from __future__ import annotations

import pytest

from tests.procedure.rules.mutants import Mutant, judged
from tests.procedure.shipped import PROCEDURES

FLAGSHIP, STROKES = "set-geared-limits.yaml", "stroke-time-check.yaml"
SET = "parts/set-rotor.yaml"
MARK = "    ask: mark\n    when: begun\n"
DISENGAGE = "    does: disengage\n    ask: done\n"


def found(main: str, file: str, *changes: tuple[str, str]) -> list[str]:
    """What the rule says once a shipped file was changed."""
    text = (PROCEDURES / file).read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    verdict = judged("timed-act", Mutant(main, file, "", {file: text}))
    assert not verdict.refused
    assert verdict.broken == bool(verdict.found("timed-act"))
    return [problem.message for problem in verdict.found("timed-act")]


@pytest.mark.parametrize(
    ("main", "file", "changes"),
    [
        (FLAGSHIP, SET, [("begun: begun, stopped: stopped", "begun: stopped, stopped: begun")]),
        (FLAGSHIP, SET, [(MARK, "    ask: mark\n"), (DISENGAGE, f"{DISENGAGE}    when: begun\n")]),
        (STROKES, STROKES, [("begun: close-begun", "begun: open-begun")]),
        (STROKES, STROKES, [("stopped: close-stopped", "stopped: open-stopped")]),
    ],
)
def test_the_moment_of_something_else_is_found(
    main: str, file: str, changes: list[tuple[str, str]]
) -> None:
    assert found(main, file) == []
    assert found(main, file, *changes)
