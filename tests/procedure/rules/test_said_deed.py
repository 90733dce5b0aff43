"""What says the contrary of an act or a proof, and what does not; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.procedure.rules.samples import problems_in

ACT = """\
- step: done
  gate: yes
  say: "{say} Say done."
  does: {act}
  ask: done
"""
ASKED = """\
- step: asked
  say: "{say}"
  ask: yes-no
  proves: {{"yes": {fact}}}
  go: {{"yes": return, "no": wrong}}
- step: wrong
  hold: Find out why.
  go: asked
"""
TRIED = """\
- step: tried
  say: "{say}"
  does: try-shafts
  ask: choice
  choices: [locked, free]
  proves: {{locked: rods-engaged}}
  go: {{locked: return, free: wrong}}
- step: wrong
  hold: Find out why.
  go: tried
"""
CONFIRMED = """\
- step: dead
  say: "{say}"
  ask: yes-no
  go: {{"yes": checked, "no": live}}
- step: checked
  say: Checker, did you see it proved dead? Say checker, correct.
  ask: agreement
  by: checker
  proves: {{agreed: isolated}}
  go: {{agreed: return, not-agreed: live}}
- step: live
  hold: Lock it off.
  go: dead
"""


def rules_of(steps: str, folder: Path) -> set[str]:
    problems = problems_in(steps, folder)
    assert not [one for one in problems if one.rule in ("syntax", "name", "act", "go")]
    return {one.rule for one in problems} & {"said-deed", "deed-told"}


@pytest.mark.parametrize(
    ("act", "say"),
    [
        ("energise", "Switch both supplies off, and lock them."),
        ("energise", "Shut the supply off."),
        ("energise", "De-energise the motor."),
        ("energise", "Put your locks back on both supplies."),
        ("lock-off", "Switch both supplies on."),
        ("lock-off", "Take your locks off."),
        ("lock-off", "Energise the motor."),
        ("restore-supplies", "Lock off every supply."),
        ("engage", "Press the setting rod and turn it, to disengage."),
        ("engage", "Press the rod."),
        ("disengage", "Let the setting rod come fully out, to engage."),
        ("disengage", "Turn the rod a quarter turn back."),
        ("crank-to-middle", "Jog it to mid-travel."),
    ],
)
def test_the_contrary_of_an_act_is_found(act: str, say: str, tmp_path: Path) -> None:
    assert rules_of(ACT.format(act=act, say=say), tmp_path) == {"said-deed"}


@pytest.mark.parametrize(
    ("act", "say"),
    [
        ("energise", "Take the lock off the supply, and switch it on."),
        ("energise", "Take your locks and tags off both supplies, and switch them on."),
        ("lock-off", "Switch both supplies off, and hang your locks on."),
        ("lock-off", "Put your locks and tags back on both supplies."),
        ("lock-off", "Before you energise again, lock off both supplies."),
        ("engage", "Press the rod lightly, turn it a quarter turn back, and let it come out."),
        ("engage", "Engage the rod. Do not press it."),
        ("disengage", "If the setting rod is engaged, press it and turn it, to disengage."),
        ("restore-supplies", "Take your locks off. Switch off what the permit wants off."),
        ("crank-to-middle", "With the motor off, crank to mid-travel."),
    ],
)
def test_what_a_writer_may_say_of_an_act_is_not(act: str, say: str, tmp_path: Path) -> None:
    assert rules_of(ACT.format(act=act, say=say), tmp_path) == set()


@pytest.mark.parametrize(
    ("fact", "say"),
    [
        ("isolated", "Is the valve live?"),
        ("isolated", "Prove the valve dead. Is there any voltage?"),
        ("people-clear", "Is anybody at the valve?"),
        ("people-clear", "Is somebody in the way?"),
        ("permitted", "Is energising forbidden?"),
        ("permitted", "Is there no permission to energise?"),
    ],
)
def test_a_question_for_the_contrary_of_a_fact_is_found(
    fact: str, say: str, tmp_path: Path
) -> None:
    assert rules_of(ASKED.format(fact=fact, say=say), tmp_path) == {"said-deed"}


@pytest.mark.parametrize(
    ("fact", "say"),
    [
        ("isolated", "A supply may be live. Is the valve dead?"),
        ("isolated", "Is it dead, and no wire live?"),
        ("people-clear", "Is nobody in the way?"),
        ("people-clear", "Is anybody who was near it clear?"),
        ("people-clear", "Are hands out?"),
        ("permitted", "May it be energised?"),
    ],
)
def test_a_question_for_the_fact_is_not(fact: str, say: str, tmp_path: Path) -> None:
    assert rules_of(ASKED.format(fact=fact, say=say), tmp_path) == set()


@pytest.mark.parametrize(
    ("say", "finds"),
    [
        ("Try every shaft. If one turns, say locked; if none, say free.", True),
        ("Try every shaft. Say locked, if one is free; else say free.", True),
        ("Try every shaft. If one turns, say free; if none, say locked.", False),
        ("Try every shaft. If no shaft turns, say locked; else say free.", False),
        ("Try every shaft. Is one free, or are all locked?", False),
    ],
)
def test_the_answer_to_a_turning_shaft_is_not_the_one_that_proves(
    say: str, finds: bool, tmp_path: Path
) -> None:
    assert ("said-deed" in rules_of(TRIED.format(say=say), tmp_path)) is finds


@pytest.mark.parametrize(("say", "finds"), [("Is it live?", True), ("Is it dead?", False)])
def test_what_a_second_person_confirms_is_asked_for_too(
    say: str, finds: bool, tmp_path: Path
) -> None:
    assert ("said-deed" in rules_of(CONFIRMED.format(say=say), tmp_path)) is finds


def test_what_is_not_said_at_all_is_a_warning(tmp_path: Path) -> None:
    steps = ACT.format(act="energise", say="Hang up the lamp.")
    (problem,) = [one for one in problems_in(steps, tmp_path) if one.rule == "deed-told"]
    assert problem.level == "warning"
    assert "'energise' is marked, and nothing says it" in problem.message
