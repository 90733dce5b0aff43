"""``gloveside lint``."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from tests.cli.command import KF_07, ROOT, gloveside


def test_what_is_shipped_has_no_problem() -> None:
    outcome = gloveside("lint", *sorted((ROOT / "procedures").rglob("*.yaml")))
    assert outcome.code == 0, outcome.out


def test_a_problem_has_file_line_column_level_message_and_rule(tmp_path: Path) -> None:
    sheet = tmp_path / "unit.yaml"
    sheet.write_text(KF_07.read_text().replace("seating: torque", "seating: torqe"))
    line = sheet.read_text().splitlines().index("seating: torqe") + 1
    outcome = gloveside("lint", sheet)
    assert outcome.code == 1
    assert outcome.out.startswith(f"{sheet}:{line}:10: error ")
    assert "did you mean 'torque'?" in outcome.out
    problem = json.loads(gloveside("lint", "--format", "json", sheet).out)
    assert (problem["file"], problem["line"], problem["column"]) == (str(sheet), line, 10)
    assert set(problem) == {"file", "line", "column", "level", "message", "rule", "way"}


def without_isolation(folder: Path) -> Path:
    """A copy of the flagship in which nobody asks whether it is locked off and dead."""
    copy = folder / "procedures"
    shutil.copytree(ROOT / "procedures", copy)
    isolate = copy / "parts" / "isolate.yaml"
    isolate.write_text(isolate.read_text().replace("proves: {agreed: isolated}", ""))
    return copy / "set-geared-limits.yaml"


def test_a_broken_rule_of_safety_is_told_with_a_way_that_leads_there(tmp_path: Path) -> None:
    outcome = gloveside("lint", without_isolation(tmp_path))
    assert outcome.code == 1
    told, *way = outcome.out.split("\n    ")
    assert "without the valve isolated" in told and told.endswith("(isolated-first)")
    assert "set-geared-limits" in way[0] or "step" in way[0]
    assert way[-1].splitlines()[0].endswith("does crank-to-stop")


def test_no_job_is_begun_by_a_procedure_that_breaks_a_rule_of_safety(tmp_path: Path) -> None:
    job = tmp_path / "job"
    outcome = gloveside("run", without_isolation(tmp_path), "--unit", KF_07, "--job", job)
    assert outcome.code == 2
    assert "without the valve isolated" in outcome.err
    assert not job.exists()


def test_a_warning_about_a_unit_sheet_is_no_error(tmp_path: Path) -> None:
    sheet = tmp_path / "unit.yaml"
    sheet.write_text(KF_07.read_text().replace("contact: 3}", "contact: 8}"))
    outcome = gloveside("lint", sheet)
    assert outcome.code == 0
    line = sheet.read_text().splitlines().index("lamps:") + 1
    at_the_ends, on_one_rotor = outcome.out.splitlines()
    assert at_the_ends.startswith(f"{sheet}:{line}:1: warning no lamp is lit at the closed end")
    assert on_one_rotor.startswith(f"{sheet}:{line + 2}:3: warning 'open lamp' and 'closed lamp'")


def test_no_verb_and_an_unknown_verb_are_bad_use() -> None:
    assert gloveside().code == 2
    assert gloveside("dance").code == 2
