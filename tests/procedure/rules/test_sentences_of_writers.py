"""Sentences that are right, in which no rule of writing finds anything, and some that are not.

The sentences are invented; common practice, no source.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.procedure.rules.samples import part_of, problems_in

RIGHT = (
    "Open the cover. Say done.",
    "Get the plug, tape and wire. Say done.",
    "Put the cover, screw and seal in the box. Say done.",
    "Wire the open and close contacts. Say done.",
    "Read the open, seat and stop contacts. Say done.",
    "Record the trip, torque and stroke at the stop. Say done.",
    "To disengage the rod, press it. Say done.",
    "With both hands, turn the handwheel. Say done.",
    "Without force, push it in. Say done.",
    "On the left side, open the drain. Say done.",
    "Checker, watch the gauge. Say done.",
    "Deburr the edge. Say done.",
    "Apply the tape. Say done.",
    "Then let it go. Say done.",
    "Slowly turn the shaft. Say done.",
    "Have the supply switched on. Say done.",
    "Keep the rod pressed, and turn the shaft. Say done.",
    "Stop, and listen. Say done.",
    "Go to the handwheel and turn it. Say done.",
    "The next part is slow. Crank to the open stop. Say done.",
    "Let the rod come out by itself. Say done.",
    "Read the motor plate: its voltage and speed. Say done.",
    "Mark the place with a pen, and say done.",
    "Check if the lamp is lit. Say done.",
    "Ask the checker if it is dead. Say done.",
    "Try every shaft: if one moves, it is not engaged. Say done.",
    "Crank to the open stop, and when it stops, say done.",
    "If the lamp is lit, crank on. Say done when it has stopped.",
    "Turn around. Say done.",
    "Look at the drawing about the bypass. Say done.",
    "Connect the wire to the normally closed contact. Say done.",
    "Look at the worm wheel beside the handwheel. Say done.",
    "Turn the handwheel. The valve spindle moves with the shaft. Say done.",
    "Look whether contacts one and two are open or closed. Say done.",
    "Press button two and wait twelve seconds. Say done.",
    "Tighten the bolt to between four and six turns. Say done.",
    "Look at rotor two and rotor four. Say done.",
    "Turn it two and a half turns. Say done.",
    "Turn the two screws by hand. Say done.",
)

RIGHT_NOTICES = (
    "Never crank with the rod out.",
    "The motor can throw the handwheel.",
    "Keep clear of the handwheel.",
    "Live terminals behind the cover. Do not touch them.",
    "If the motor hums, say stop.",
    "If the motor hums, stop at once.",
    "Turning the shaft fast breaks the gears.",
    "Open terminals carry voltage.",
    "Release of the spring throws the cover.",
    "Turn no shaft yet.",
    "Block valves can leak.",
    "Lift points are marked red.",
)

RIGHT_HOLDS = (
    "The plate cannot be read. Degrease the plate first.",
    "It is still live. Do not reach in. Call who is in charge.",
    "Wait until it is dry.",
    "The rod is out. Turn it back in.",
    "When it is dry, carry on.",
)

WRONG = (
    ("Open the cover, then remove the plug. Say done.", "one-action"),
    ("Open the cover. Remove the plug. Say done.", "one-action"),
    ("Lift the lid off and take {rotor.contacts} out. Say done.", "one-action"),
    ("The cover is opened. Say done.", "imperative-first"),
    ("Crank on, if the lamp is lit. Say done.", "condition-first"),
    ("Crank to the stop unless it hums. Say done.", "condition-first"),
    ("Look at the lamp and the gauge, or the dial. Say done.", "mixed-and-or"),
    ("Tighten it around four turns. Say done.", "vague-words"),
    ("Tighten it properly. Say done.", "vague-words"),
    ("Turn it two turns, then four turns. Say done.", "one-number"),
    ("Turn it 2 turns after 12 seconds. Say done.", "one-number"),
)


def rules_breaking(sample: str, folder: Path) -> set[str]:
    """The rules that a part breaks; the drawing is its caller's matter."""
    return {one.rule for one in problems_in(sample, folder)} - {"drawing-compared"}


def saying(text: str, notice: str = "") -> str:
    warning = f"\n  warning: {json.dumps(notice)}" if notice else ""
    return f"- step: try{warning}\n  say: {json.dumps(text)}\n  ask: done\n"


def holding(text: str) -> str:
    return (
        '- step: try\n  say: Is it dry?\n  ask: yes-no\n  go: {"yes": return, "no": wet}\n'
        f"- step: wet\n  hold: {json.dumps(text)}\n  go: try\n"
    )


@pytest.mark.parametrize("text", RIGHT)
def test_nothing_is_found_in_a_sentence_that_is_right(text: str, tmp_path: Path) -> None:
    assert rules_breaking(saying(text), tmp_path) == set()


@pytest.mark.parametrize("text", RIGHT_NOTICES)
def test_nothing_is_found_in_a_notice_that_is_right(text: str, tmp_path: Path) -> None:
    assert rules_breaking(saying("Look at the plate. Say done.", text), tmp_path) == set()


@pytest.mark.parametrize("text", RIGHT_HOLDS)
def test_nothing_is_found_in_a_hold_that_is_right(text: str, tmp_path: Path) -> None:
    assert rules_breaking(holding(text), tmp_path) == set()


@pytest.mark.parametrize(("text", "rule"), WRONG)
def test_a_sentence_that_is_wrong_is_found_by_its_rule(
    text: str, rule: str, tmp_path: Path
) -> None:
    assert rule in rules_breaking(saying(text), tmp_path)


def test_a_list_is_added_to_under_also(tmp_path: Path) -> None:
    part = part_of(saying("Deburr the edge and gild the plug. Say done."))
    assert rules_breaking(part, tmp_path) == set()
    longer = "lint: {one-action: {also-words: [deburr, gild]}}\nsteps:"
    assert rules_breaking(part.replace("steps:", longer), tmp_path) == {"one-action"}
    shorter = "lint: {one-action: {words: [open], also-words: [gild]}}\nsteps:"
    assert rules_breaking(part.replace("steps:", shorter), tmp_path) == set()
