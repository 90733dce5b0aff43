"""``gloveside review``: by keyboard, on a job done by keyboard."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.command import KF_07, Outcome, gloveside, two_ends
from tests.session.test_commands import REPLIES


@pytest.fixture(scope="module")
def done(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("done") / "job"
    outcome = gloveside(
        *("run", two_ends(), "--unit", KF_07, "--job", folder),
        *("--ears", "typed", "--voice", "off"),
        typed="".join(f"{reply}\n" for reply in REPLIES),
    )
    assert outcome.code == 0, outcome.err
    return folder


@pytest.fixture
def job(done: Path, tmp_path: Path) -> Path:
    import shutil  # noqa: PLC0415

    return Path(shutil.copytree(done, tmp_path / "job"))


def review(job: Path, *replies: str, checker: str = "JT") -> Outcome:
    return gloveside(
        *("review", job, "--checker", checker, "--ears", "typed", "--voice", "off"),
        typed="".join(f"{reply}\n" for reply in replies),
    )


def kinds(job: Path) -> list[str]:
    lines = (job / "journal.jsonl").read_text().splitlines()
    return [json.loads(line)["kind"] for line in lines]


MANY = ("correct",) * 40


def test_a_review_that_agrees_is_signed_and_the_journal_still_verifies(job: Path) -> None:
    before = gloveside("verify", job).out
    words = next(line for line in before.splitlines() if "in words" in line).split(": ")[1]
    outcome = review(job, *MANY)
    assert outcome.code == 0, outcome.err
    assert "Confirmed: one and two closed, three and four open. Do you agree?" in outcome.out
    assert kinds(job)[-1] == "reviewed"
    after = gloveside("verify", job, "--root", *words.split())
    assert after.code == 0, after.out
    assert "lines were written after" in after.out


def test_a_disagreement_holds_the_job_and_says_what_clears_it(job: Path) -> None:
    outcome = review(job, "wrong", "yes", *MANY)
    assert outcome.code == 3
    assert "To clear it: take the reading of line" in outcome.out
    again = review(job, *MANY)
    assert again.code == 0, again.out


def test_wrong_is_asked_about_before_it_counts(job: Path) -> None:
    assert review(job, "wrong", "no", *MANY).code == 0


def test_a_review_that_was_stopped_goes_on_with_what_is_left(job: Path) -> None:
    assert "Stopped" in review(job, "correct", "correct", "hold").out
    rest = review(job, *MANY)
    assert rest.code == 0
    assert kinds(job).count("verdict") == len([*filter(None, kinds(job))]) - kinds(job).index(
        "verdict"
    ) - kinds(job).count("reviewed")


def test_an_independent_check_must_be_finished_and_of_the_checker(job: Path) -> None:
    outcome = gloveside("review", job, "--checker", "JT", "--against", job)
    assert outcome.code == 2
    assert "does not say who" in outcome.err


def test_nobody_reviews_what_is_no_job(tmp_path: Path) -> None:
    assert review(tmp_path, "correct").code == 2


def test_a_job_on_which_the_checker_does_not_agree_does_not_go_on(tmp_path: Path) -> None:
    job = tmp_path / "job"
    options = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    typed = "".join(f"{reply}\n" for reply in REPLIES[:20])
    assert gloveside("run", two_ends(), *options, typed=typed).code == 3
    assert review(job, "wrong", "yes", *MANY).code == 3
    held = gloveside("run", two_ends(), *options, typed="yes\n")
    assert held.code == 3
    assert "JT does not agree" in held.err
    assert "To clear it" in held.err


@pytest.mark.parametrize("checker", ["", "  ", "--"])
def test_nobody_is_no_checker(job: Path, checker: str) -> None:
    outcome = gloveside("review", job, f"--checker={checker}", "--ears", "typed", "--voice", "off")
    assert outcome.code == 2
    assert "name who checks" in outcome.err
