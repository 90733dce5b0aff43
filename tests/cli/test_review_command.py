"""``gloveside review``: by keyboard, on a job done by keyboard."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from assistant.journal import clips
from assistant.journal.canonical import digest, encode
from assistant.journal.entry import NO_LINE
from assistant.journal.verdicts import HEARD_MEANING, READ_MEANING
from assistant.rig.mistakes import Mistake, MistakeKind
from tests.cli.command import FLAGSHIP, KF_07, ROOT, Outcome, gloveside, spoiled, two_ends
from tests.journal import rehearsed
from tests.session.job import kf
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
    return shutil.copytree(done, tmp_path / "job")


def review(job: Path, *replies: str, checker: str = "JT") -> Outcome:
    return gloveside(
        *("review", job, "--checker", checker, "--ears", "typed", "--voice", "off"),
        typed="".join(f"{reply}\n" for reply in replies),
    )


def kinds(job: Path) -> list[str]:
    lines = (job / "journal.jsonl").read_text().splitlines()
    return [json.loads(line)["kind"] for line in lines]


def bodies(job: Path, kind: str) -> list[dict[str, Any]]:
    """The entries of a kind."""
    told = map(json.loads, (job / "journal.jsonl").read_text().splitlines())
    return [one for one in told if one["kind"] == kind]


def recorded(job: Path, *typed: int) -> Path:
    """The same job as if it had been spoken, but for these lines: each reply has its clip."""
    said, chained = (job / "journal.jsonl").read_text().splitlines(), b""
    previous = NO_LINE
    for number, line in enumerate(said, 1):
        fields = json.loads(line)
        if fields["kind"] == "heard" and number not in typed:
            sound = np.full(1600, number / 1000, dtype=np.float32)
            fields["clip"] = clips.keep(job, clips.next_number(job), sound)
            fields["heard"]["engine"] = "moonshine-tiny-en"
        made = encode({**fields, "previous": previous})
        previous, chained = digest(made), chained + made + b"\n"
    (job / "journal.jsonl").write_bytes(chained)
    return job


MANY = ("correct",) * 40


def test_a_review_that_agrees_is_signed_and_the_journal_still_verifies(job: Path) -> None:
    before = gloveside("verify", job).out
    words = next(line for line in before.splitlines() if "in words" in line).split(": ")[1]
    outcome = review(job, *MANY)
    assert outcome.code == 0, outcome.err
    assert "Written: one and two closed, three and four open. Do you agree?" in outcome.out
    assert kinds(job)[-1] == "reviewed"
    after = gloveside("verify", job, "--root", *words.split())
    assert after.code == 0, after.out
    assert "lines were written after" in after.out


def test_a_disagreement_holds_the_job_and_says_what_clears_it(job: Path) -> None:
    outcome = review(job, "wrong", "yes", *MANY)
    assert outcome.code == 3
    assert "To clear it: find out with the technician what is right" in outcome.out
    other = review(job, *MANY, checker="ZZ")
    assert other.code == 3, other.out
    assert "JT does not agree with the confirmation of line 2, at" in other.out
    assert "(ZZ does)" in other.out
    again = review(job, *MANY)
    assert again.code == 0, again.out


def test_wrong_is_asked_about_before_it_counts(job: Path) -> None:
    assert review(job, "wrong", "no", *MANY).code == 0


def test_a_review_that_was_stopped_goes_on_with_what_is_left(job: Path) -> None:
    assert "Stopped" in review(job, "correct", "correct", "hold").out
    rest = review(job, *MANY)
    assert rest.code == 0
    assert rest.out.startswith("1 of ")
    assert kinds(job)[-1] == "reviewed"
    assert kinds(job).count("verdict") == len([*filter(None, kinds(job))]) - kinds(job).index(
        "verdict"
    ) - kinds(job).count("reviewed")


def test_whoever_signs_has_heard_everything(job: Path) -> None:
    """What another heard before is heard again."""
    assert "Stopped" in review(job, *MANY[:3], "hold").out
    assert "Stopped" in review(job, "correct", "hold", checker="EF").out
    assert (
        "Written: one and two closed, three and four open" in review(job, *MANY, checker="EF").out
    )
    lines = (job / "journal.jsonl").read_text().splitlines()
    bodies = [json.loads(line) for line in lines]
    heard = {one["of"] for one in bodies if one["kind"] == "verdict" and one["by"] == "EF"}
    (signed,) = (one for one in bodies if one["kind"] == "reviewed")
    assert (signed["by"], signed["agreed"]) == ("EF", len(heard))


def test_a_review_says_that_it_is_signed_and_is_signed_once(job: Path) -> None:
    first = review(job, *MANY)
    count = len(bodies(job, "verdict"))
    assert f"Signed by JT: {count} agreed, 0 disagreed.\n" in first.out
    journal = (job / "journal.jsonl").read_bytes()
    words = first.out.split("The journal's new words, for the work order: ")[1]
    again = review(job, checker="j.t.")
    assert again.code == 0, again.err
    signed = len(kinds(job))
    assert again.out == (
        f"Nothing to hear: j.t. signed at line {signed}.\n"
        f"The journal's words are as before: {words}"
    )
    assert (job / "journal.jsonl").read_bytes() == journal
    assert f"Signed by EF: {count} agreed" in review(job, *MANY, checker="EF").out


def test_a_review_that_was_taken_up_again_is_signed_for_what_it_counts_then(job: Path) -> None:
    first = review(job, "wrong", "yes", *MANY)
    count = len(bodies(job, "verdict"))
    assert f"Signed by JT: {count - 1} agreed, 1 disagreed.\n" in first.out
    assert f"Signed by JT: {count} agreed, 0 disagreed.\n" in review(job, *MANY).out
    assert kinds(job).count("reviewed") == 2


def test_nobody_signs_for_what_is_still_to_be_confirmed(tmp_path: Path) -> None:
    job = tmp_path / "job"
    options = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    typed = "".join(f"{reply}\n" for reply in REPLIES[:20])
    assert gloveside("run", two_ends(), *options, typed=typed).code == 3
    outcome = review(job, *MANY)
    assert outcome.code == 0
    assert "Not signed yet" in outcome.out
    assert "reviewed" not in kinds(job)


def test_an_independent_check_must_be_finished_and_of_the_checker(job: Path) -> None:
    outcome = gloveside("review", job, "--checker", "JT", "--against", job)
    assert outcome.code == 2
    assert "does not say who" in outcome.err


def test_what_was_typed_is_read_and_not_heard(job: Path) -> None:
    outcome = review(job, *MANY)
    assert "No recording: typed." in outcome.out
    assert "Confirmed:" not in outcome.out
    assert {one["meaning"] for one in bodies(job, "verdict")} == {READ_MEANING}
    (signed,) = bodies(job, "reviewed")
    assert (signed["heard"], signed["read"]) == (0, len(bodies(job, "verdict")))
    assert "none has a recording" in signed["meaning"]


def test_a_review_of_both_tells_how_many_were_heard_and_how_many_read(job: Path) -> None:
    outcome = review(recorded(job, 2, 3), *MANY)
    assert outcome.code == 0, outcome.out
    assert "(recording clips/0001.wav)" in outcome.out
    verdicts = bodies(job, "verdict")
    assert [one["meaning"] for one in verdicts[:3]] == [READ_MEANING, READ_MEANING, HEARD_MEANING]
    (signed,) = bodies(job, "reviewed")
    assert (signed["heard"], signed["read"]) == (len(verdicts) - 2, 2)
    assert f"read 2 of {len(verdicts)}, which have no recording" in signed["meaning"]
    assert gloveside("verify", job).code == 0


@pytest.mark.parametrize("how", ["changed", "missing", "of another"])
def test_a_recording_that_is_not_as_it_was_is_not_heard_and_nothing_is_signed(
    job: Path, how: str
) -> None:
    folder = recorded(job) / "clips"
    third, fourth = folder / "0003.wav", folder / "0004.wav"
    match how:
        case "changed":
            third.write_bytes(third.read_bytes()[:-2] + b"\x01\x00")
        case "missing":
            third.unlink()
        case "of another":
            shutil.copy(fourth, third)
    outcome = review(job, *MANY)
    assert outcome.code == 1
    assert "Line 4 cannot be heard: of line 4, its clip clips/0003.wav " in outcome.out
    assert "Not heard. Keep the job folder as it is, and ask for a copy from before." in outcome.out
    assert "(recording clips/0003.wav)" not in outcome.out
    assert 4 not in {one["of"] for one in bodies(job, "verdict")}
    assert "Not signed, for 1 of" in outcome.out
    assert "reviewed" not in kinds(job)


def test_a_recording_that_was_heard_and_is_changed_before_the_signature_is_not_signed_over(
    job: Path,
) -> None:
    assert "Stopped" in review(recorded(job), *MANY[:5], "hold").out
    (job / "clips" / "0003.wav").unlink()
    outcome = review(job, *MANY)
    assert outcome.code == 1
    assert "reviewed" not in kinds(job)


def test_each_recording_is_looked_at_just_before_it_is_played(job: Path) -> None:
    """One that goes while another is judged is missed too."""
    gone = """
import pathlib, assistant.cli.review_by_ear as review
reply = review._Hearing._reply
def slow(hearing):
    (hearing.folder / "clips" / "0003.wav").unlink(missing_ok=True)
    return reply(hearing)
review._Hearing._reply = slow
"""
    words = ("review", recorded(job), "--checker", "JT", "--ears", "typed", "--voice", "off")
    outcome = spoiled(gone, *words, typed="correct\n" * 40)
    assert outcome.code == 1
    assert 4 not in {one["of"] for one in bodies(job, "verdict")}
    assert "reviewed" not in kinds(job)


def test_nobody_reviews_what_is_no_job(tmp_path: Path) -> None:
    assert review(tmp_path, "correct").code == 2


def under_way(job: Path, *said: str) -> Outcome:
    options = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    return gloveside("run", two_ends(), *options, typed="".join(f"{reply}\n" for reply in said))


def test_a_reading_with_which_the_checker_does_not_agree_is_taken_again_before_the_job_goes_on(
    tmp_path: Path,
) -> None:
    job = tmp_path / "job"
    assert under_way(job, *REPLIES[:18]).code == 3
    confirmed = [one["seq"] for one in bodies(job, "heard") if one.get("confirmed")]
    reading = next(
        one["seq"] for one in bodies(job, "heard") if "open-end/read" in one.get("confirmed", {})
    )
    before = confirmed.index(reading)
    assert review(job, *MANY[:before], "wrong", "yes", *MANY).code == 3
    assert confirmed[-1] == reading
    count = len(kinds(job))

    held = under_way(job, "done", "hold", "carry on", "done")
    assert held.code == 3
    assert f"JT does not agree with the confirmation of line {reading}" in held.err
    assert f"To clear it: go on with the job, go back to line {reading}" in held.err
    assert held.out.startswith("Say go back until you are asked again at open end, read.")
    assert held.out.count("Not yet. Say go back until") == 2
    # The commands are in the journal, the answers that had to wait are not.
    new = [one["meant"] for one in bodies(job, "heard") if one["seq"] > count]
    assert new == [{"command": "hold"}, {"command": "carry-on"}]

    again = under_way(job, "go back", "yes", "yes", *REPLIES[16:])  # the shafts are tried anew
    assert again.code == 0, again.err
    assert "Not yet" not in again.out
    assert gloveside("verify", job).code == 0


@pytest.mark.parametrize("checker", ["", "  ", "--", "J\udcffT"])
def test_nobody_is_no_checker(job: Path, checker: str) -> None:
    outcome = gloveside("review", job, f"--checker={checker}", "--ears", "typed", "--voice", "off")
    assert outcome.code == 2
    assert "name who checks" in outcome.err


# An independent check, by keyboard, of a job by keyboard


_CLOCK = """
import datetime, itertools
import assistant.cli.run as run
from assistant.journal.entry import timestamp
begun = datetime.datetime(2031, 5, {day}, 8, tzinfo=datetime.UTC)
seconds = itertools.count(0, 51)
run.clock = lambda: timestamp(begun + datetime.timedelta(seconds=next(seconds)))
"""
"""A person's pace: typed at once, a shaft would have been turned too fast."""


def as_options(papers: Mapping[str, str]) -> list[str]:
    return [word for name, told in papers.items() for word in ("--paper", f"{name}={told}")]


def typed_job(
    folder: Path,
    *,
    checks: bool,
    mistake: Mistake | None = None,
    of: Mapping[str, str] = rehearsed.OF_THE_CHECK,
    day: int = 15,
) -> Path:
    """A job, or the check of a valve that a job has left as drawn, with papers of its own.

    The job is of the 14th, a check of the day given.
    """
    rig = rehearsed.rig_of(kf("07"))
    said = rehearsed.replies(rig, checks=False)
    if checks:
        said = rehearsed.replies(rig, checks=True, mistake=mistake)
    papers = rehearsed.PAPERS | dict(of if checks else rehearsed.OF_THE_TESTER)
    procedure = ROOT / "procedures" / ("second-check.yaml" if checks else "set-geared-limits.yaml")
    outcome = spoiled(
        _CLOCK.format(day=day if checks else 14),
        *("run", procedure, "--unit", KF_07, "--job", folder, "--ears", "typed", "--voice", "off"),
        *as_options(papers),
        typed="".join(f"{reply}\n" for reply in said),
    )
    assert outcome.code == 0, outcome.err
    return folder


@pytest.fixture(scope="module")
def job_and_check(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    folder = tmp_path_factory.mktemp("independent")
    return typed_job(folder / "job", checks=False), typed_job(folder / "check", checks=True)


def against(job: Path, check: Path, checker: str = "AB") -> Outcome:
    return gloveside("review", job, "--checker", checker, "--against", check)


def test_an_independent_check_is_compared_reading_by_reading(
    job_and_check: tuple[Path, Path], tmp_path: Path
) -> None:
    job, check = shutil.copytree(job_and_check[0], tmp_path / "job"), job_and_check[1]
    outcome = against(job, check)
    assert outcome.code == 0, outcome.out + outcome.err
    for told in (
        "contact 1, before the trip of the open rotor: same, open",
        "contact 8, past the trip of the closed rotor: same, open",
        "shaft of the closed rotor while opening: same, clockwise",
        "lamps when open: same, open lamp",
        "full stroke: same, 62 turns",
        "stopped before the open stop: same, 1 turn\n",
        "disk left its seat: 0.25 turns in the job, line ",
        "34 same; 1 only in the job.",
    ):
        assert told in outcome.out
    assert gloveside("verify", job).code == 0
    page = (job / "record.html").read_text()
    assert "Independent check by AB" in page
    assert "only in the job" in page
    assert "On hold" not in outcome.out


def test_a_reading_that_differs_is_told_with_both_lines_and_holds_the_job(
    job_and_check: tuple[Path, Path], tmp_path: Path
) -> None:
    job = shutil.copytree(job_and_check[0], tmp_path / "job")
    misread = Mistake(MistakeKind.MISREAD, "read-open", 2)
    check = typed_job(tmp_path / "check", checks=True, mistake=misread)
    outcome = against(job, check)
    assert outcome.code == 3
    told = next(line for line in outcome.out.splitlines() if "DIFFERS" in line)
    assert re.fullmatch(
        r"contact 3, past the trip of the open rotor: DIFFERS, open in the job, line \d+; "
        r"closed in the check, line \d+",
        told,
    )
    assert "33 same; 1 only in the job; 1 differs." in outcome.out
    assert "does not agree with contact 3, past the trip of the open rotor" in outcome.out
    assert "To clear it: find out which reading is right" in outcome.out
    assert "✗ differs" in (job / "record.html").read_text()


def test_a_check_is_compared_once(job_and_check: tuple[Path, Path], tmp_path: Path) -> None:
    job, check = shutil.copytree(job_and_check[0], tmp_path / "job"), job_and_check[1]
    assert against(job, check).code == 0
    journal = (job / "journal.jsonl").read_bytes()
    again = against(job, check)
    assert again.code == 2
    assert f"this check was compared at line {len(kinds(job))} of the job" in again.err
    assert "to check again, let somebody who has seen neither take the readings anew" in again.err
    assert (job / "journal.jsonl").read_bytes() == journal


def test_only_a_check_that_was_begun_after_another_differed_clears_it(
    job_and_check: tuple[Path, Path], tmp_path: Path
) -> None:
    """What was known when the check differed settles nothing: common practice, no source."""
    job, older = shutil.copytree(job_and_check[0], tmp_path / "job"), job_and_check[1]

    def on(day: int, check: Path, checker: str) -> Outcome:
        words = ("review", str(job), "--checker", checker, "--against", check)
        return spoiled(_CLOCK.format(day=day), *words)

    misread = Mistake(MistakeKind.MISREAD, "read-open", 2)
    differs = typed_job(tmp_path / "differs", checks=True, mistake=misread, of={"checker": "CD"})
    assert on(16, differs, "CD").code == 3
    line = len(kinds(job))
    held = gloveside("verify", job).out
    assert "State: on hold, at its end. CD does not agree with contact 3, past the trip" in held

    refused = on(17, older, "AB")
    assert refused.code == 2
    assert f"this check was begun before line {line} of the job, where CD does not" in refused.err
    assert "find out which reading is right, then let somebody who has seen neither" in refused.err
    assert len(kinds(job)) == line

    new = typed_job(tmp_path / "new", checks=True, of={"checker": "EF"}, day=18)
    cleared = on(19, new, "EF")
    assert cleared.code == 0, cleared.out + cleared.err
    assert "State: at its end.\n" in gloveside("verify", job).out


def test_a_second_setting_is_no_independent_check(job_and_check: tuple[Path, Path]) -> None:
    """Nobody is asked there what was seen before, and the technician may be the same."""
    job, check = job_and_check
    outcome = against(check, job, checker="JT")
    assert outcome.code == 2
    assert "the second job is no independent check" in outcome.err


def test_a_check_that_somebody_else_made_is_refused(job_and_check: tuple[Path, Path]) -> None:
    outcome = against(*job_and_check, checker="CD")
    assert outcome.code == 2
    assert "made by AB, not CD" in outcome.err


def test_the_checker_of_the_job_is_no_independent_one(
    job_and_check: tuple[Path, Path], tmp_path: Path
) -> None:
    check = typed_job(tmp_path / "check", checks=True, of={"checker": "JT"})
    outcome = against(job_and_check[0], check, checker="JT")
    assert outcome.code == 2
    assert "JT had seen the first answers" in outcome.err


def test_a_job_that_is_not_at_its_end_is_not_compared(
    job_and_check: tuple[Path, Path], tmp_path: Path
) -> None:
    job = tmp_path / "job"
    papers = as_options(rehearsed.PAPERS | rehearsed.OF_THE_TESTER)
    where = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    assert gloveside("run", FLAGSHIP, *where, *papers, typed="yes\n").code == 3
    outcome = against(job, job_and_check[1])
    assert outcome.code == 2
    assert f"{job}: this job is not at its end" in outcome.err


def test_whoever_heard_the_job_before_is_no_independent_checker(
    job_and_check: tuple[Path, Path], tmp_path: Path
) -> None:
    job = shutil.copytree(job_and_check[0], tmp_path / "job")
    assert "Stopped" in review(job, "correct", "hold").out
    check = typed_job(tmp_path / "check", checks=True, of={"checker": "JT"})
    outcome = against(job, check, checker="JT")
    assert outcome.code == 2
    assert "JT had seen the first answers" in outcome.err
