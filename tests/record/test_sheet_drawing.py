"""The drawing of a unit sheet: every line of the contact development stands where it belongs.

One turn of 62 is 1.6 %, 1.5 are 2.4 % (arithmetic); the back-offs are common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from assistant.procedure.unit_sheet import load_unit
from assistant.record.sheet_drawing import draw_sheet
from assistant.trade.unit import Lamp, Unit

SHEETS = Path(__file__).parents[2] / "procedures" / "units"
NAMESPACE = "{http://www.w3.org/2000/svg}"


def unit(number: str) -> Unit:
    return load_unit(SHEETS / f"kf-{number}.yaml")


def elements(drawing: str, tag: str, kind: str = "") -> list[ElementTree.Element]:
    root = ElementTree.fromstring(drawing)
    found = root.iter(f"{NAMESPACE}{tag}")
    return [element for element in found if element.get("class", "") == kind or not kind]


def texts(drawing: str) -> list[str]:
    return [element.text or "" for element in elements(drawing, "text")]


def spans(drawing: str) -> list[tuple[float, float]]:
    """The thick lines from above, in percent of travel, without the one of the legend."""
    lines = elements(drawing, "line", "closed")[:-1]
    return [(float(line.attrib["x1"][:-1]), float(line.attrib["x2"][:-1])) for line in lines]


@pytest.mark.parametrize("number", ["07", "12"])
def test_every_contact_has_its_thick_line(number: str) -> None:
    drawn = unit(number)
    drawing = draw_sheet(drawn)
    in_order = [contact for rotor in drawn.rotors for contact in rotor.contacts]
    assert spans(drawing) == [drawn.development.closed[contact][0] for contact in in_order]
    labels = [text for text in texts(drawing) if text.startswith("contact ")]
    assert [int(re.findall(r"\d+", label)[0]) for label in labels] == in_order


def test_trips_are_told_in_percent_and_turns() -> None:
    told = texts(draw_sheet(unit("07")))
    assert "→ 98.4 %: 1 turn from the open stop, set while opening" in told
    assert "← 2.4 %: 1.5 turns from the closed stop, set while closing" in told
    told = texts(draw_sheet(unit("12")))
    # 25 and 40 percent of 48 turns are 12 and 19.2 (arithmetic).
    assert "→ 25 %: 12 turns from the closed stop, set while opening" in told
    assert "← 60 %: 19.2 turns from the open stop, set while closing" in told


def test_lamps_are_lit_while_their_contact_is_closed() -> None:
    drawing = draw_sheet(unit("07"))
    lit = elements(drawing, "rect", "lit")[:-1]
    found = [(float(bar.attrib["x"][:-1]), float(bar.attrib["width"][:-1])) for bar in lit]
    assert found == [(0, 98.4), (2.4, pytest.approx(97.6))]
    assert "closed lamp, green: contact 3" in texts(drawing)
    assert "contact 5, bypass" in texts(drawing)


def test_it_says_what_it_shows_to_who_cannot_see_it() -> None:
    drawing = draw_sheet(unit("07"))
    assert elements(drawing, "title")[0].text == "Contact development of KF-07"
    told = elements(drawing, "desc")[0].text or ""
    assert "contact 3 closed from 0.0 to 98.4 %" in told
    assert "closed lamp, green: contact 3: lit from 0.0 to 98.4 %." in told


def test_it_is_black_on_white_and_whole_in_itself() -> None:
    drawing = draw_sheet(unit("12"))
    assert set(re.findall(r"#[0-9a-fA-F]{3,6}", drawing)) == {"#000", "#fff", "#999"}
    assert re.findall(r"https?://[^\"]*", drawing) == ["http://www.w3.org/2000/svg"]
    assert "<script" not in drawing


def test_texts_of_the_sheet_are_no_markup() -> None:
    odd = replace(
        unit("07"),
        service='A <b> & "quoted" service ' * 8,
        lamps=(Lamp("<i>lamp with a long name", "re&d", 3), Lamp("open lamp", "red", 7)),
    )
    drawing = draw_sheet(odd)
    assert any("<b> &" in text for text in texts(drawing))
    assert all(len(text) < 120 for text in texts(drawing))


def test_a_sheet_without_lamps() -> None:
    drawing = draw_sheet(replace(unit("07"), lamps=()))
    assert "Lamps" not in texts(drawing)
