"""Every step and every way on of a program is in its picture, in each format."""

from __future__ import annotations

import re
from collections.abc import Callable
from xml.etree import ElementTree

import pytest

from assistant.drawing import (
    Chart,
    main_file,
    one_part,
    part_file,
    to_dot,
    to_mermaid,
    to_svg,
    whole,
)
from assistant.drawing.chart import Form
from assistant.drawing.labels import heading
from assistant.drawing.layout import BOX_WIDTH, PAGE_HEIGHT, PAGE_WIDTH, lay_out
from assistant.drawing.outline import outline
from assistant.procedure import Program, load_program
from assistant.procedure.check_file import whole as checked
from assistant.procedure.gather import gather, texts_in
from tests.procedure.shipped import FLAGSHIP, PROCEDURES

MAIN_FILES = sorted(PROCEDURES.glob("*.yaml"))
Arcs = set[tuple[str, str, str]]


@pytest.fixture(params=MAIN_FILES, ids=lambda path: path.stem, scope="module")
def program(request: pytest.FixtureRequest) -> Program:
    return load_program(request.param)


def in_svg(chart: Chart) -> tuple[set[str], Arcs]:
    """The steps and arcs that a reader of the picture finds, by what is drawn."""
    root = ElementTree.fromstring(to_svg(chart))
    boxes = {box.attrib["data-step"] for box in root.iter() if "data-step" in box.attrib}
    drawn = [arc for arc in root.iter() if "data-from" in arc.attrib]
    for arc in drawn:
        assert any(child.tag.endswith("path") for child in arc), "an arc without a line"
    ends = [(arc.attrib["data-from"], arc.attrib["data-to"]) for arc in drawn]
    outcomes = [arc.attrib["data-outcome"] for arc in drawn]
    return boxes, {(a, o, b) for (a, b), o in zip(ends, outcomes, strict=True)}


def in_dot(chart: Chart) -> tuple[set[str], Arcs]:
    text = to_dot(chart)
    boxes = set(re.findall(r'^ *"([^"]*)" \[shape=', text, re.M))
    arcs = re.findall(r'^ *"([^"]*)" -> "([^"]*)"(?: \[label="([^"]*)"\])?;$', text, re.M)
    return boxes, {(source, outcome or "next", target) for source, target, outcome in arcs}


def in_mermaid(chart: Chart) -> tuple[set[str], Arcs]:
    text = to_mermaid(chart)
    keys = {f"s{number}": box.key for number, box in enumerate(chart.boxes)}
    boxes = {keys[name] for name in re.findall(r'^ *(s\d+)[\[({/\\]+"', text, re.M)}
    arcs = re.findall(r'^ *(s\d+) -->(?:\|"([^"]*)"\|)? (s\d+)$', text, re.M)
    plain = {(keys[a], outcome.replace("#45;", "-") or "next", keys[b]) for a, outcome, b in arcs}
    return boxes, plain


FORMATS = pytest.mark.parametrize(
    "read", [in_svg, in_dot, in_mermaid], ids=["svg", "dot", "mermaid"]
)


@FORMATS
def test_the_whole_program_is_drawn(
    program: Program, read: Callable[[Chart], tuple[set[str], Arcs]]
) -> None:
    boxes, arcs = read(whole(program))
    assert boxes == set(program.nodes)
    assert arcs == {
        (node.name, outcome, target)
        for node in program.nodes.values()
        for outcome, target in node.targets.items()
    }


@FORMATS
def test_the_main_file_is_drawn_with_every_way_out_of_its_calls(
    program: Program, read: Callable[[Chart], tuple[set[str], Arcs]]
) -> None:
    boxes, arcs = read(main_file(program))
    main = {node.name for node in program.nodes.values() if not node.scope.prefix}
    assert boxes == main
    # What is inside a call leads out of it only by the ways that its box shows.
    for name in main:
        drawn = {target for source, _, target in arcs if source == name}
        inner = [n for n in program.nodes.values() if n.name.startswith(f"{name}/")] or [
            program.nodes[name]
        ]
        led = {target for node in inner for target in node.targets.values() if target in main}
        assert drawn == led


def test_a_part_is_drawn_with_each_of_its_ways_out() -> None:
    program = load_program(FLAGSHIP)
    chart = one_part(program, "prove-rotor")
    under = {name for name in program.nodes if name.startswith("prove-open/")}
    assert {box.key for box in chart.boxes} == under | {"return-right", "return-wrong"}
    # As prove-rotor.yaml has them: `go: return-right` and `go: return-wrong`.
    ways = {(arc.source, arc.target) for arc in chart.arcs if arc.target not in under}
    assert ways == {
        ("prove-open/proved", "return-right"),
        ("prove-open/wrong-way", "return-wrong"),
        ("prove-open/wrong-place", "return-wrong"),
        ("prove-open/not-there", "return-wrong"),
    }
    boxes, arcs = in_svg(chart)
    assert boxes == {box.key for box in chart.boxes}
    assert arcs == {(arc.source, arc.outcome, arc.target) for arc in chart.arcs}


def test_the_file_of_a_part_is_drawn_by_itself() -> None:
    path = PROCEDURES / "parts" / "prove-rotor.yaml"
    program = checked(gather(path.name, texts_in(path.parent), str(path.parent)))
    alone, called = part_file(program), one_part(load_program(FLAGSHIP), "prove-rotor")
    assert [box.name for box in alone.boxes] == [box.name for box in called.boxes]
    assert len(alone.arcs) == len(called.arcs)
    assert alone.boxes[0].number == 1


def test_the_order_of_the_boxes_is_the_order_of_speech(program: Program) -> None:
    assert [box.key for box in whole(program).boxes] == list(program.nodes)


def test_every_box_names_its_outcomes_and_where_they_lead(program: Program) -> None:
    """Who cannot follow a line can read it: each outcome stands as text in its box."""
    chart = whole(program)
    by_key = {box.key: box for box in chart.boxes}
    root = ElementTree.fromstring(to_svg(chart))
    texts = {
        box.attrib["data-step"]: " ".join(t.text or "" for t in box if t.tag.endswith("text"))
        for box in root.iter()
        if "data-step" in box.attrib
    }
    for arc in chart.arcs:
        outcome = "" if arc.outcome == "next" else f"{arc.outcome} "
        row = f"{outcome}→ {by_key[arc.target].number}"
        assert row in texts[arc.source]
        assert heading(by_key[arc.source]) in texts[arc.source]


def test_what_is_said_and_asked_and_done_is_in_the_boxes() -> None:
    root = ElementTree.fromstring(to_svg(one_part(load_program(FLAGSHIP), "set-rotor")))
    text = {
        box.attrib["data-step"].rpartition("/")[2]: " ".join(box.itertext())
        for box in root.iter()
        if "data-step" in box.attrib
    }
    assert "does disengage" in text["disengage"]
    assert "CAUTION. Never above two hundred" in text["begin"]
    assert "asks contacts rotor.contacts" in text["read"]
    assert "works out shaft-direction" in text["direction"]
    assert "repeats at most 2 times" in text["not-engaged"]
    assert "HOLD" in text["gears"]
    gate = to_svg(one_part(load_program(FLAGSHIP), "electrical-test"))
    assert "GATE" in gate


def test_the_kinds_are_told_apart_without_colour() -> None:
    """Each kind of box has an outline of its own; two look alike only if they mean the same."""
    paths = {form: outline(form, 0, 0, 100, 40) for form in Form}
    assert len(set(paths.values())) == len(Form) - 1
    assert paths[Form.END] == paths[Form.RETURN]


def test_no_box_stands_outside_its_page_or_on_another() -> None:
    for path in MAIN_FILES:
        layout = lay_out(whole(load_program(path)))
        for before, after in zip(layout.placed, layout.placed[1:], strict=False):
            assert 0 < after.x < after.x + BOX_WIDTH < PAGE_WIDTH
            assert 0 < after.y < after.y + after.height < PAGE_HEIGHT
            if before.column == after.column:
                assert before.y + before.height < after.y


def test_arcs_that_lead_to_different_steps_do_not_run_in_one_line() -> None:
    layout = lay_out(whole(load_program(FLAGSHIP)))
    placed = {place.box.key: place for place in layout.placed}
    runs: dict[tuple[int, bool, int], list[tuple[float, float, str]]] = {}
    for place in layout.placed:
        for way in place.ways:
            if way.lane is not None and way.row is not None:
                ends = sorted((place.y + way.row, placed[way.arc.target].y + 8))
                runs.setdefault((place.column, way.back, way.lane), []).append(
                    (ends[0], ends[1], way.arc.target)
                )
    assert runs
    for lane in runs.values():
        for low, high, to in lane:
            assert all(b < low or high < a for a, b, other in lane if other != to)


def test_the_picture_says_what_it_is(program: Program) -> None:
    root = ElementTree.fromstring(to_svg(main_file(program)))
    named = {child.attrib["id"]: child.text for child in root if "id" in child.attrib}
    assert root.attrib["aria-labelledby"].split() == ["title", "description"]
    assert program.procedure.title in str(named["title"])
    assert "steps in the order of speech" in str(named["description"])


def test_the_picture_needs_nothing_from_outside(program: Program) -> None:
    text = to_svg(whole(program)).replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert "http" not in text
    assert "<script" not in text
    assert "<image" not in text


def test_a_call_by_the_name_of_its_step_is_drawn_too() -> None:
    chart = one_part(load_program(FLAGSHIP), "closed-end/set")
    assert chart.title == "Set one rotor"
    assert chart.boxes[0].key == "closed-end/set/where"
