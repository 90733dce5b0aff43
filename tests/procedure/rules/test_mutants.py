"""The rules against changes of the shipped procedures, judged by the facts of the trade alone.

The changes are those of ``python -m tests.procedure.rules.mutants``, which makes 50 that break each
rule; here are the first few.
"""

from __future__ import annotations

import random
from functools import cache
from itertools import islice

import pytest

from assistant.procedure.load import load_program
from assistant.procedure.program import Program
from tests.procedure.rules.mutants import MAINS, RULES, judged, mutants, tally
from tests.procedure.rules.replay import can_be_gone
from tests.procedure.rules.trade_oracle import (
    harms,
    harms_on_a_walk,
    of_another_unit,
    without_end,
    without_limit,
    without_value,
)
from tests.procedure.rules.voice_oracle import contradicted, misnamed, misspoken
from tests.procedure.shipped import PROCEDURES

FEW = 2
SOME = 12


@cache
def shipped(main: str) -> Program:
    return load_program(PROCEDURES / main)


@pytest.mark.parametrize("main", MAINS)
def test_the_trade_does_not_object_to_what_is_shipped(main: str) -> None:
    program = shipped(main)
    assert not harms(program)
    assert not misspoken(program)
    assert not misnamed(program)
    assert not contradicted(program)
    assert not of_another_unit(program)
    assert not without_value(program)
    assert not without_end(program)
    assert not without_limit(program)


@pytest.mark.parametrize("rule", RULES)
def test_what_breaks_a_rule_is_found_and_nothing_else(rule: str) -> None:
    counted = tally(rule, broken=FEW)
    assert counted.broken == FEW
    assert not counted.missed
    assert not counted.false


@pytest.mark.parametrize("rule", ["rod-in-first", "gate-first", "names", "loop-limit", "no-end"])
def test_each_way_that_is_told_can_be_gone(rule: str) -> None:
    ways = 0
    for mutant in islice(mutants(rule), SOME):
        verdict = judged(rule, mutant)
        program = verdict.program
        for problem in verdict.told:
            if program and problem.way:
                # A loop is told round, from one of its own steps on.
                is_loop = problem.rule == "loop-limit"
                starts = program.nodes if is_loop else [program.start]
                assert can_be_gone(program, problem.way, starts), problem.way
                ways += 1
    assert ways


def test_a_walk_by_chance_comes_to_no_harm_that_the_search_does_not_know() -> None:
    """Depth first everything is seen, so that what a single job meets must be among it."""
    for mutant in islice(mutants("rod-in-first"), SOME):
        verdict = judged("rod-in-first", mutant)
        if verdict.program is not None:
            walked = harms_on_a_walk(verdict.program, random.Random(mutant.what))
            assert walked <= harms(verdict.program)
