"""Names in the record that the program reads again: their kinds, their spelling, and the guide."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from assistant.procedure.load import load_program
from assistant.procedure.problems import Problem
from assistant.procedure.record_names import RECORD_NAMES, recorded_as
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.values import Kind
from tests.procedure.rules.samples import MEANS
from tests.procedure.shipped import PROCEDURES

PROVE, SET = "parts/prove-rotor.yaml", "parts/set-rotor.yaml"
TEST, FIND = "parts/electrical-test.yaml", "parts/find-trips.yaml"


def problems(folder: Path, file: str, old: str, new: str) -> list[Problem]:
    """What lint says of the names in a record once a shipped part was changed."""
    shutil.copytree(PROCEDURES, folder, dirs_exist_ok=True)
    part = folder / file
    text = part.read_text(encoding="utf-8")
    assert old in text
    part.write_text(text.replace(old, new, 1), encoding="utf-8")
    found = lint_file(folder / "set-geared-limits.yaml", MEANS)
    return [one for one in found if one.rule in ("record-kind", "record-name")]


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        (PROVE, "{as-left: trip,", "{as-left: reading,"),
        (PROVE, "{as-left: trip,", "{as-left: turns,"),
        (PROVE, "{as-left: trip,", "{as-found: trip,"),
        (PROVE, "{before-the-trip: reading}", "{before-the-trip: rotor.trip}"),
        (SET, "{after-setting: left}", "{after-setting: seen}"),
        (SET, "shaft-turned-cranking: rotor.to-stop", "shaft-turned-cranking: seen"),
        (TEST, "{lamps-when-open: seen}", "{lamps-when-open: difference}"),
        (TEST, "{stroke-time: seconds}", "{stroke-time: begun}"),
        (FIND, "{counted-stroke: turns}", "{counted-stroke: unit.search}"),
    ],
)
def test_another_kind_or_unit_is_an_error(file: str, old: str, new: str, tmp_path: Path) -> None:
    (problem,) = problems(tmp_path, file, old, new)
    assert (problem.rule, problem.level) == ("record-kind", "error")


@pytest.mark.parametrize(
    ("file", "old", "new", "meant"),
    [
        (PROVE, "{as-left: trip,", "{as-lef: trip,", "as-left"),
        (SET, "{after-setting: left}", "{after-seting: left}", "after-setting"),
        (TEST, "{stroke-time: seconds}", "{stroke-tme: seconds}", "stroke-time"),
    ],
)
def test_a_name_that_is_almost_one_is_asked_about(
    file: str, old: str, new: str, meant: str, tmp_path: Path
) -> None:
    (problem,) = problems(tmp_path, file, old, new)
    assert (problem.rule, problem.level) == ("record-name", "warning")
    assert f"did you mean '{meant}'?" in problem.message


@pytest.mark.parametrize("name", ["opening", "seats-said", "buds", "when", "order", "as-set"])
def test_any_other_name_is_free(name: str, tmp_path: Path) -> None:
    assert problems(tmp_path, SET, "{shafts: shafts}", f"{{{name}: shafts}}") == []


def test_the_guide_lists_every_name_with_its_kind() -> None:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    table = page.partition("### Names in the record")[2].partition("\n###")[0]
    told: dict[str, frozenset[Kind]] = {}
    units: dict[str, str | None] = {}
    for names, kinds in re.findall(r"^\| (`.*?) \| (.*?) \|", table, re.MULTILINE):
        for name in re.findall(r"`([\w-]+)`", names):
            kind, _, unit = kinds.partition(", in ")
            told[name] = frozenset(map(Kind, kind.split(" or ")))
            units[name] = unit or None
    assert RECORD_NAMES.keys() <= told.keys()
    for name, kind in told.items():
        known = recorded_as(name)
        assert known is not None
        assert (known.kinds, known.unit) == (kind, units[name]), name


def test_what_is_shipped_records_each_name() -> None:
    recorded = {
        record.name
        for main in ("set-geared-limits.yaml", "second-check.yaml")
        for node in load_program(PROCEDURES / main).nodes.values()
        for record in node.step.records
    }
    assert RECORD_NAMES.keys() <= recorded
