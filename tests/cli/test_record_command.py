"""``gloveside record``: to read, to hear, or for another program."""

from __future__ import annotations

import csv
import functools
import json
import shutil
import tempfile
from pathlib import Path

import jsonschema
import pytest

from assistant.record.plain import schema
from tests.cli.command import KF_07, ROOT, gloveside, two_ends
from tests.session.job import TO_READING
from tests.session.test_commands import REPLIES


@functools.cache
def done() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="record-")) / "job"
    typed = "".join(f"{reply}\n" for reply in REPLIES)
    quiet = ("--ears", "typed", "--voice", "off")
    outcome = gloveside("run", two_ends(), "--unit", KF_07, "--job", folder, *quiet, typed=typed)
    assert outcome.code == 0, outcome.err
    return folder


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copytree(done(), tmp_path / "job"))


def test_the_page_lies_in_the_job_folder_with_the_picture_of_its_sheet(job: Path) -> None:
    outcome = gloveside("record", job)
    assert (outcome.code, outcome.out) == (0, f"{job / 'record.html'}\n")
    page = (job / "record.html").read_text("utf-8")
    assert "Contact development of KF-07" in page


def test_json_is_as_its_schema_says(job: Path) -> None:
    outcome = gloveside("record", job, "--format", "json")
    assert (outcome.code, outcome.out) == (0, f"{job / 'record.json'}\n")
    told = json.loads((job / "record.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema()).validate(told)
    assert told["ended"]
    assert told["lamps"]


def test_a_dash_is_standard_output(job: Path) -> None:
    outcome = gloveside("record", job, "--format", "json", "--output", "-")
    assert json.loads(outcome.out)
    assert not (ROOT / "-").exists()


def test_csv_has_the_readings(job: Path, tmp_path: Path) -> None:
    target = tmp_path / "readings.csv"
    outcome = gloveside("record", job, "--format", "csv", "--output", target)
    assert (outcome.code, outcome.out) == (0, f"{target}\n")
    assert not (job / "record.csv").exists()
    with target.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert {row["value"] for row in rows if " contact " in row["name"]} == {"open", "closed"}
    assert b"\r\r\n" not in target.read_bytes()


@pytest.mark.parametrize("harm", ["changed", "gone"])
def test_a_sheet_that_is_not_that_of_the_job_is_not_drawn(job: Path, harm: str) -> None:
    (sheet,) = (job / "sources" / "unit").iterdir()
    if harm == "changed":
        sheet.write_text(sheet.read_text("utf-8").replace("98.4", "90.0"), "utf-8")
    else:
        sheet.unlink()
    outcome = gloveside("record", job)
    assert outcome.code == 0, outcome.err
    page = (job / "record.html").read_text("utf-8")
    assert "Contact development of" not in page
    assert "The unit sheet of this job is missing or was changed" in page


def test_a_page_that_cannot_be_written_says_where_else_to(job: Path) -> None:
    outcome = gloveside("record", job, "--output", job / "no" / "such" / "page.html")
    assert outcome.code != 0
    assert "--output" in outcome.err


def test_a_job_that_was_never_begun_has_no_record(tmp_path: Path) -> None:
    assert gloveside("record", tmp_path).code != 0


def test_an_unknown_format_is_bad_use(job: Path) -> None:
    assert gloveside("record", job, "--format", "pdf").code == 2


def test_an_unfinished_job_says_how_the_valve_stands(tmp_path: Path) -> None:
    quiet = ("--ears", "typed", "--voice", "off")
    typed = "".join(f"{reply}\n" for reply in TO_READING)
    job = tmp_path / "job"
    outcome = gloveside("run", two_ends(), "--unit", KF_07, "--job", job, *quiet, typed=typed)
    assert outcome.code == 3, outcome.err
    page = (job / "record.html").read_text("utf-8")
    assert "Setting rod: engaged; the shafts were tried and are locked." in page
    assert "Supplies: locked off." in page
    assert "Not proved by hand: open, closed." in page


def test_an_unfinished_job_names_the_hold_in_which_it_is_and_none_that_was_closed(
    tmp_path: Path,
) -> None:
    def verdict(*replies: str) -> str:
        job = tmp_path / f"{len(replies)}"
        quiet = ("--ears", "typed", "--voice", "off")
        typed = "".join(f"{reply}\n" for reply in replies)
        gloveside("run", two_ends(), "--unit", KF_07, "--job", job, *quiet, typed=typed)
        outcome = gloveside("record", job, "--format", "json", "--output", "-")
        (told,) = json.loads(outcome.out)["open"][:1]
        return str(told)

    assert verdict(TO_READING[0], "hold") == "the job is not at its end (on hold: You said hold.)"
    assert verdict(TO_READING[0], "hold", "carry on") == "the job is not at its end"
