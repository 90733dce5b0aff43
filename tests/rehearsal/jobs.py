"""Rehearsals for these tests: the short job with both ends, and small procedures as texts."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.procedure.load import program_from_texts
from assistant.procedure.program import Program
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.rehearsal import Rehearsal
from assistant.rig.as_found import Found, found_wrong
from assistant.session.effects import Effect
from tests.session.job import kf, two_ends

__all__ = ["bench", "play_on", "small"]

HEAD = """\
procedure: small
title: A small one
revision: "1"
about: For tests.
"""


def bench(found: Mapping[str, Found] | None = None) -> Bench:
    """The short job on KF-07."""
    unit = kf("07")
    return Bench(two_ends(), unit, {}, {**found_wrong(unit), **(found or {})})


def small(steps: str) -> Program:
    """A procedure of these steps."""
    return program_from_texts("small.yaml", {"small.yaml": f"{HEAD}\nsteps:\n{steps}"}.__getitem__)


def play_on(rehearsal: Rehearsal, most: int = 200) -> list[Effect]:
    """Answer as the rig shows to the end; everything that the session did."""
    effects = list(rehearsal.last.effects)
    for _ in range(most):
        if rehearsal.listen is None:
            break
        rehearsal.answer()
        effects += rehearsal.last.effects
    return effects
