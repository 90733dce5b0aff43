"""Whoever works from the sheet never loses the way: every target is a numbered step on it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from assistant.procedure import program_from_texts
from assistant.procedure.fit import reached_on, ways_on
from assistant.procedure.model import Ask, AskKind, Hold, Repeat
from assistant.sheet import lay_out, render
from tests.procedure.shipped import FLAGSHIP, KF_07, KF_12
from tests.sheet.printed import MAIN_FILES, UNITS, printed, words


@pytest.mark.parametrize("unit", UNITS.values(), ids=UNITS)
@pytest.mark.parametrize("procedure", MAIN_FILES, ids=lambda path: path.stem)
def test_every_way_of_the_program_leads_to_a_numbered_step(
    procedure: Path, unit: Path | None
) -> None:
    paper = printed(procedure, unit)
    numbers = {name: number for number, name in enumerate(paper.program.nodes, 1)}
    nodes = list(reached_on(paper.program, paper.unit))
    rows = paper.rows
    assert list(rows) == [numbers[node.name] for node in nodes], "in the order of speech"
    for node in nodes:
        led = {int(n) for n in re.findall(r'href="#step-(\d+)"', rows[numbers[node.name]])}
        assert led == {numbers[target] for target in ways_on(node, paper.unit)}, node.name
        assert led <= rows.keys()


def test_every_row_has_its_boxes_for_begun_and_done() -> None:
    """Place-keeping: a step is marked when begun and when done (DOE-STD-1029-92)."""
    for row in printed(FLAGSHIP, KF_12).rows.values():
        begun, done = re.findall(r'<td class="keep">(.*?)</td>', row, re.S)
        assert begun.count("☐") == done.count("☐") >= 1


def test_a_loop_has_a_box_for_each_repetition_that_is_allowed() -> None:
    paper = printed(FLAGSHIP, KF_07)
    loops = 0
    for number, node in enumerate(paper.program.nodes.values(), 1):
        if isinstance(node.step.action, Repeat) and number in paper.rows:
            (boxes,) = re.findall(r'<p class="loop">(.*?)</p>', paper.rows[number], re.S)
            assert boxes.count("☐") == node.step.action.at_most
            loops += 1
    assert loops > 20


def test_holds_and_signatures_have_their_lines() -> None:
    paper = printed(FLAGSHIP, KF_07)
    for number, node in enumerate(paper.program.nodes.values(), 1):
        row = words(paper.rows.get(number, ""))
        match node.step.action:
            case Hold() if row:
                assert "Who closes this hold?" in row
                assert "carry on: go to" in row
            case Ask(kind=AskKind.AGREEMENT, by=role) if row:
                assert f"{role} signs" in row


def test_what_an_act_needs_stands_before_it() -> None:
    """29 CFR 1910.147(d), and common practice for rod and shafts."""
    rows = {words(row).partition(" Only if: ")[2] for row in printed(FLAGSHIP, KF_07).rows.values()}
    assert any(row.startswith("isolated, rods engaged.") for row in rows)
    assert any(row.startswith("isolated, rod out.") for row in rows)


def test_steps_that_the_unit_has_no_use_for_are_left_away() -> None:
    two, four = printed(FLAGSHIP, KF_07), printed(FLAGSHIP, KF_12)
    assert "The third rotor." not in words(two.page)
    assert "The third rotor." in words(four.page)
    assert set(two.rows) < set(range(1, len(two.program.nodes) + 1))


def test_with_a_unit_its_values_are_filled_in() -> None:
    page = words(printed(FLAGSHIP, KF_07).page)
    for text in (
        "KF-07",
        "KF-E-207",
        "Crank back one and a half turns toward open.",
        "Read contacts one, two, three and four.",
    ):
        assert text in page


def test_the_page_needs_nothing_from_outside() -> None:
    page = printed(FLAGSHIP, KF_07).page
    assert "http" not in re.sub(r'http-equiv="[^"]*"', "", page)
    assert "<script" not in page
    assert "default-src 'none'" in page


def test_a_step_is_not_cut_by_the_end_of_a_page_and_the_head_comes_again() -> None:
    page = printed(FLAGSHIP, KF_07).page
    assert ".steps > tbody > tr { break-inside: avoid; }" in page
    head = re.findall(r"<thead>(.*?)</thead>", page, re.S)[0]
    for text in ("Set the geared limit switches, revision 3", "KF-07", "KF-E-207", "revision C"):
        assert text in words(head)


def test_an_answer_in_a_loop_has_a_line_for_each_time() -> None:
    paper = printed(FLAGSHIP, KF_07)
    numbers = {name: number for number, name in enumerate(paper.program.nodes, 1)}
    # try-shafts.yaml: `repeat: locked`, `at-most: 2`: three times in all.
    assert paper.rows[numbers["rods/locked"]].count("☐ locked") == 3
    # find-trips.yaml: twenty rounds that call a part, of which six have their lines.
    assert paper.rows[numbers["find/read/read"]].count('<table class="grid">') == 6


def test_texts_from_files_are_escaped() -> None:
    text = """
procedure: awkward
title: '<script>alert(1)</script> & "more"'
revision: "1"
about: <b>bold</b>
steps:
  - step: end
    say: '<i>5 < 6</i> & "so"'
    end: job
"""
    page = render(lay_out(program_from_texts("a.yaml", {"a.yaml": text}.__getitem__), None))
    assert "<script" not in page
    assert "<i>" not in page.partition("<tbody>")[2]
    assert "&lt;i&gt;5 &lt; 6&lt;/i&gt; &amp; &#34;so&#34;" in page


def test_a_hold_with_the_supply_on_says_to_push_stop_and_no_other_does() -> None:
    paper = printed(FLAGSHIP, KF_07)
    numbers = {name: number for number, name in enumerate(paper.program.nodes, 1)}
    stop = "Push stop. Lock off before you reach in."
    for name in ("test/reversed", "test/no-motion", "test/closed-wrong", "test/open-wrong"):
        assert any(stop in said for said in paper.sentences(numbers[name])), name
    # Before it is switched on, after it is proved dead, and after a hold that said it.
    for name in ("test/not-clear", "test/on-the-stop", "not-proved", "isolation/not-dead"):
        assert not any(stop in said for said in paper.sentences(numbers[name])), name
