"""``gloveside lint``."""

from __future__ import annotations

import json
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
    assert set(problem) == {"file", "line", "column", "level", "message", "rule"}


def test_no_verb_and_an_unknown_verb_are_bad_use() -> None:
    assert gloveside().code == 2
    assert gloveside("dance").code == 2
