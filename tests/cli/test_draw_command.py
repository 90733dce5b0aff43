"""``gloveside draw``."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

from tests.cli.command import FLAGSHIP, KF_07, ROOT, gloveside


def test_the_picture_goes_to_standard_output_or_into_a_file(tmp_path: Path) -> None:
    told = gloveside("draw", FLAGSHIP)
    assert told.code == 0, told.err
    assert ElementTree.fromstring(told.out.encode()).tag.endswith("svg")
    target = tmp_path / "flagship.svg"
    written = gloveside("draw", FLAGSHIP, "--output", target)
    assert (written.code, written.out.strip()) == (0, str(target))
    assert target.read_text("utf-8") == told.out


def test_the_other_formats_and_views() -> None:
    assert gloveside("draw", FLAGSHIP, "--format", "dot", "--whole").out.startswith("digraph")
    part = gloveside("draw", FLAGSHIP, "--format", "mermaid", "--part", "set-rotor")
    assert part.out.startswith("flowchart TB")
    assert "Set one rotor" in part.out


def test_a_part_is_drawn_from_its_own_file() -> None:
    outcome = gloveside("draw", ROOT / "procedures" / "parts" / "set-rotor.yaml")
    assert outcome.code == 0, outcome.err
    assert "1 where" in outcome.out


def test_a_part_that_is_not_there_is_named_with_the_nearest() -> None:
    outcome = gloveside("draw", FLAGSHIP, "--part", "set-roter")
    assert outcome.code == 2
    assert "did you mean 'set-rotor'?" in outcome.err


def test_where_it_cannot_be_written_the_place_and_a_remedy_are_told(tmp_path: Path) -> None:
    outcome = gloveside("draw", FLAGSHIP, "--output", tmp_path / "none" / "x.svg")
    assert outcome.code == 2
    assert "x.svg cannot be written" in outcome.err
    assert "--output" in outcome.err


def test_the_sheet_is_a_page_with_the_values_of_the_unit(tmp_path: Path) -> None:
    target = tmp_path / "sheet.html"
    outcome = gloveside("draw", FLAGSHIP, "--sheet", "--unit", KF_07, "--output", target)
    assert outcome.code == 0, outcome.err
    assert "KF-E-207" in target.read_text("utf-8")
    assert "KF-E-207" not in gloveside("draw", FLAGSHIP, "--sheet").out


def test_a_unit_without_a_sheet_is_bad_use() -> None:
    outcome = gloveside("draw", FLAGSHIP, "--unit", KF_07)
    assert outcome.code == 2
    assert "--unit goes with --sheet" in outcome.err
