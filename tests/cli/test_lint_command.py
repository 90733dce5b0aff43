"""``gloveside lint``."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from assistant.procedure.rules.registry import RULES
from assistant.procedure.unit_rules.registry import UNIT_RULES
from tests.cli.command import KF_07, ROOT, gloveside

LONG = """\
procedure: filter
title: Change the filter
revision: "3"
about: Change the filter of the compressor.
steps:
  - step: open
    say: >
      Open the drain under the housing of the second compressor on the left side of the room, which
      you find behind the white door that leads to the yard, and watch the small glass above it,
      until water no longer runs out of the short hose. Say done.
    ask: done
  - step: end
    say: The filter is changed.
    end: job
"""


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
    assert way[-1].splitlines()[0].endswith("does try-shafts")


def test_no_job_is_begun_by_a_procedure_that_breaks_a_rule_of_safety(tmp_path: Path) -> None:
    job = tmp_path / "job"
    outcome = gloveside("run", without_isolation(tmp_path), "--unit", KF_07, "--job", job)
    assert outcome.code == 2
    assert "without the valve isolated" in outcome.err
    assert not job.exists()


def test_a_speed_limit_that_a_comment_allows_to_be_unspoken_begins_no_job(tmp_path: Path) -> None:
    copy = tmp_path / "procedures"
    shutil.copytree(ROOT / "procedures", copy)
    rotor = copy / "parts" / "set-rotor.yaml"
    caution = "    caution: Never above two hundred turns a minute. The gears would break.\n"
    allowed = "  # allow speed-limit: we know it\n  - step: turn\n"
    text = rotor.read_text().replace(caution, "").replace("  - step: turn\n", allowed)
    rotor.write_text(text)
    main = copy / "set-geared-limits.yaml"
    outcome = gloveside("lint", main)
    line = text[: text.index("# allow")].count("\n") + 1
    assert outcome.code == 1
    assert f"{rotor}:{line}:3: error 'speed-limit' is a rule of safety" in outcome.out
    assert "(speed-limit)" in outcome.out
    job = tmp_path / "job"
    assert gloveside("run", main, "--unit", KF_07, "--job", job).code == 2
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


def test_every_rule_is_listed_with_its_level_and_what_it_wants() -> None:
    outcome = gloveside("lint", "--rules")
    assert outcome.code == 0
    lines = outcome.out.splitlines()
    assert len(lines) == len(RULES) + len(UNIT_RULES)
    assert lines[0].split(maxsplit=2) == [
        "isolated-first",
        "error",
        "Isolated before hands go in.",
    ]


@pytest.mark.parametrize("rule", ["one-action", "bypass-late"])
def test_the_manual_of_a_rule_is_printed_with_its_samples(rule: str) -> None:
    outcome = gloveside("lint", "--manual", rule)
    assert outcome.code == 0
    assert outcome.out.startswith(f"{rule} (warning)\n\n")
    assert "Passes::" in outcome.out and "Fails::" in outcome.out


def test_the_manual_of_no_rule_is_bad_use() -> None:
    outcome = gloveside("lint", "--manual", "one-acton")
    assert (outcome.code, outcome.out) == (2, "")
    assert "did you mean 'one-action'?" in outcome.err


def test_how_long_a_prompt_takes_is_measured_from_its_sound(tmp_path: Path) -> None:
    file = tmp_path / "long.yaml"
    file.write_text(LONG, encoding="utf-8")
    silent = gloveside("lint", file)
    assert (silent.code, silent.out) == (0, "")
    assert "Spoken length was not measured: --render" in silent.err
    rendered = gloveside("lint", "--render", file)
    assert rendered.code == 0
    assert rendered.out.startswith(f"{file}:7:10: warning this takes ")
    took = float(rendered.out.partition("this takes ")[2].partition(" s")[0])
    # 48 words at 165 a minute are 17 s, pauses and short words aside.
    assert 12 < took < 22
    assert "not measured" not in rendered.err


def test_nothing_to_check_is_bad_use() -> None:
    assert gloveside("lint").code == 2


def test_no_verb_and_an_unknown_verb_are_bad_use() -> None:
    assert gloveside().code == 2
    assert gloveside("dance").code == 2
