"""``gloveside new``: the skeletons lint clean and run."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from assistant.procedure.load import load_program
from tests.cli.command import KF_07, ROOT, TOO_LONG, gloveside

REPLIES = (
    *("done", "yes", "twelve millimetres", "correct", "rough", "smooth"),
    "technician correct",
)


def test_a_procedure_is_written_lints_clean_and_runs(tmp_path: Path) -> None:
    file = tmp_path / "try-out.yaml"
    outcome = gloveside("new", "try-out", "--folder", tmp_path)
    assert outcome.code == 0, outcome.err
    assert f"gloveside lint {file}" in outcome.out
    lint = gloveside("lint", file)
    assert (lint.code, lint.out) == (0, "")
    papers = ("--paper", "technician=RV", "--paper", "work-order=W417")
    silent = ("--ears", "typed", "--voice", "off", *papers)
    job = gloveside(
        "run", file, "--job", tmp_path / "job", *silent, typed="".join(f"{r}\n" for r in REPLIES)
    )
    assert job.code == 0, job.err
    assert "The gap is twelve millimetres." in job.out


def test_a_part_is_written_lints_clean_and_is_called(tmp_path: Path) -> None:
    assert gloveside("new", "look-at", "--part", "--folder", tmp_path).code == 0
    lint = gloveside("lint", tmp_path / "look-at.yaml")
    assert (lint.code, lint.out) == (0, "")
    caller = tmp_path / "caller.yaml"
    caller.write_text(
        "procedure: caller\ntitle: A\nrevision: A\nabout: A.\nparts: {look-at: look-at.yaml}\n"
        "steps:\n  - step: look\n    call: look-at\n    with: {rotor: open}\n"
        "    go: {right: end, wrong: end}\n  - step: end\n    say: Done.\n    end: job\n"
    )
    replies = "one and two closed three and four open\ncorrect\n"
    job = gloveside(
        *("run", caller, "--unit", KF_07, "--job", tmp_path / "job"),
        *("--ears", "typed", "--voice", "off"),
        typed=replies,
    )
    assert job.code == 0, job.err
    assert "As drawn." in job.out


@pytest.mark.parametrize("shipped", [True, False])
def test_the_schema_is_found_or_written_beside_it(tmp_path: Path, shipped: bool) -> None:
    folder = tmp_path / "parts"
    folder.mkdir()
    if shipped:
        shutil.copy(ROOT / "procedures" / "procedure.schema.json", tmp_path)
    gloveside("new", "look-at", "--part", "--folder", folder)
    first, *_ = (folder / "look-at.yaml").read_text().splitlines()
    named = folder / first.partition("$schema=")[2]
    assert named.resolve() == (tmp_path if shipped else folder) / "procedure.schema.json"
    assert named.is_file()


@pytest.mark.parametrize("name", ["Try", "try_out", "1st", "a" * 41, "../evil", "", "a.yaml"])
def test_a_name_that_is_none(tmp_path: Path, name: str) -> None:
    outcome = gloveside("new", name, "--folder", tmp_path)
    assert outcome.code == 2
    assert "the name" in outcome.err
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    file = tmp_path / "try-out.yaml"
    file.write_text("mine\n")
    outcome = gloveside("new", "try-out", "--folder", tmp_path)
    assert outcome.code == 2
    assert "is there already" in outcome.err
    assert file.read_text() == "mine\n"
    assert "is no folder" in gloveside("new", "a", "--folder", tmp_path / "nowhere").err
    unseen = gloveside("new", "a", "--folder", tmp_path / TOO_LONG)
    assert unseen.code == 2
    assert "cannot be looked at: File name too long; name another folder" in unseen.err


def test_the_skeleton_says_what_each_kind_is_for(tmp_path: Path) -> None:
    gloveside("new", "try-out", "--folder", tmp_path)
    steps = load_program(tmp_path / "try-out.yaml").procedure.steps
    above = {
        step.place.line - 1 for step in steps if step.name not in ("give-up", "refused", "end")
    }
    lines = (tmp_path / "try-out.yaml").read_text().splitlines()
    assert all(lines[line - 1].lstrip().startswith("#") for line in above)
