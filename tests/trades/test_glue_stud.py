"""A procedure of another trade: linted, every way through it rehearsed, and run by text.

The job is made up; that a torque has two limits and a glue an open time is common practice.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from assistant.language.english import english
from assistant.procedure.load import load_program
from assistant.procedure.papers import read_papers
from assistant.procedure.rules.lint_file import lint_file
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.covering import cover
from assistant.rehearsal.routes import routes_of
from assistant.session.core import Session
from tests.cli.command import gloveside
from tests.procedure.rules.samples import MEANS
from tests.session.job import Job
from tests.sheet.printed import BLANK, printed, words

GLUE_STUD = Path(__file__).with_name("glue-stud.yaml")
PAPERS = {"technician": "RV", "order": "W417", "least-torque": "38", "most-torque": "42"}


def test_the_linter_has_nothing_to_tell() -> None:
    assert [str(problem) for problem in lint_file(GLUE_STUD, MEANS)] == []


def test_every_way_is_rehearsed() -> None:
    program = load_program(GLUE_STUD)
    found = routes_of(cover(Bench(program, None, read_papers(program, PAPERS))))
    assert found.missing == (("in-time", "below"),)  # no time is below none
    assert found.steps == ()
    # What matches its paper, in time and tight, is what a technician finds where all is well.
    assert {("begin", "match"), ("in-time", "within"), ("judge-torque", "within")} <= set(
        found.shown
    )


def job() -> Job:
    program = load_program(GLUE_STUD)
    return Job(Session(program, None, english(), read_papers(program, PAPERS)))


def at_the_nut(seconds: float) -> Job:
    """The job where the torque is asked for, or the glue stood too long."""
    begun = job().say("whiskey four one seven", "correct", "mark")
    begun.wait(seconds)
    return begun.say("mark")


@pytest.mark.parametrize(
    ("torque", "said"),
    [
        ("forty two", "Forty two newton metres, from thirty eight to forty two. Done as recorded?"),
        ("thirty seven", "Thirty seven newton metres, below thirty eight."),
        ("forty three", "Forty three newton metres, above forty two. It is recorded."),
    ],
)
def test_what_is_said_of_the_torque(torque: str, said: str) -> None:
    tightened = at_the_nut(30).say(f"{torque} newton metres", "correct")
    assert said in tightened.said
    assert tightened.held == (torque == "forty three")


@pytest.mark.parametrize(("seconds", "in_time"), [(119, True), (120, True), (121, False)])
def test_a_glue_that_stood_too_long(seconds: float, in_time: bool) -> None:
    assert ("Pull the stud out" not in at_the_nut(seconds).said) == in_time


def test_nothing_is_said_of_a_valve_that_is_not_there() -> None:
    back = at_the_nut(30).say("go back", "yes")
    assert "Only the record went back, not the work." in back.said


def test_the_sheet_is_that_of_this_trade() -> None:
    paper = printed(GLUE_STUD, None)
    page = words(paper.page.partition("</style>")[2])
    for foreign in ("Unit", "Drawing", "unit sheet", "valve", "rod ", "shaft", "Prove dead"):
        assert foreign not in page, foreign
    assert "Least torque, in newton metres" in page
    assert f"{BLANK}: go to 3" in words(paper.rows[1]), "what is spelled is compared with a paper"
    assert "order" in paper.rows[1]
    (judged,) = (n for n, name in enumerate(paper.program.nodes, 1) if name == "in-time")
    assert "from 0 seconds to 120 seconds" in words(paper.rows[judged])


def test_the_job_by_keyboard(tmp_path: Path) -> None:
    papers = [word for name, text in PAPERS.items() for word in ("--paper", f"{name}={text}")]
    a_while = ["say again"] * 20  # two marks within one millisecond would be no time at all
    to_the_nut = ("whiskey four one seven", "correct", "mark", *a_while, "mark")
    replies = (*to_the_nut, "forty newton metres", "correct", "technician, correct")
    options = ("--job", str(tmp_path), "--ears", "typed", "--voice", "off", *papers)
    outcome = gloveside("run", GLUE_STUD, *options, typed="".join(f"{r}\n" for r in replies))
    assert outcome.code == 0, outcome.err
    lines = (tmp_path / "journal.jsonl").read_text(encoding="utf-8").splitlines()
    recorded = {
        one["name"]: one["value"] for line in lines for one in json.loads(line).get("recorded", ())
    }
    assert recorded["torque"] == "forty newton metres"
    assert recorded["torque-judged"] == "Forty newton metres, from thirty eight to forty two."
    assert gloveside("verify", tmp_path).code == 0
    assert "newton metres" in (tmp_path / "record.html").read_text(encoding="utf-8")
