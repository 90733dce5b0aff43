"""``gloveside run``: a job by keyboard, interrupted and continued."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from assistant.journal.chain import link
from assistant.session.wording import JOB_STOPPED
from assistant.speech import wav
from assistant.speech.models.catalogue import catalogue
from tests.cli.command import FLAGSHIP, KF_07, ROOT, TOO_LONG, Outcome, gloveside, spoiled, two_ends
from tests.session.job import NOW
from tests.session.test_commands import REPLIES
from tests.units import PAPERS


def run(job: Path, *replies: str, unit: Path = KF_07) -> Outcome:
    return gloveside(
        "run",
        two_ends(),
        "--unit",
        unit,
        "--job",
        job,
        "--ears",
        "typed",
        "--voice",
        "off",
        typed="".join(f"{reply}\n" for reply in replies),
    )


def entries(job: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in (job / "journal.jsonl").read_text().splitlines()]


def test_a_whole_job_by_keyboard(tmp_path: Path) -> None:
    outcome = run(tmp_path / "job", *REPLIES)
    assert outcome.code == 0, outcome.err
    assert "Both ends are set." in outcome.out
    assert entries(tmp_path / "job")[-1]["finished"] is True
    assert "KF-07" in (tmp_path / "job" / "record.html").read_text()
    verified = gloveside("verify", tmp_path / "job")
    assert verified.code == 0, verified.out


@pytest.mark.parametrize("at", [1, 9, 17, 24])
def test_an_interrupted_job_is_held_and_the_same_command_continues_it(
    tmp_path: Path, at: int
) -> None:
    first = run(tmp_path, *REPLIES[:at])
    assert first.code == 3
    second = run(tmp_path, *REPLIES[at:])
    assert second.code == 0, second.err
    assert "Starting again where the job stopped" in second.out
    assert gloveside("verify", tmp_path).code == 0


def started(job: Path, stderr: int | None = None) -> subprocess.Popen[str]:
    options = ("--unit", str(KF_07), "--job", str(job), "--ears", "typed", "--voice", "off")
    return subprocess.Popen(
        [sys.executable, "-m", "assistant", "run", str(two_ends()), *options],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=stderr,
        text=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONUNBUFFERED": ""},  # what cannot be printed waits in a buffer
    )


@pytest.mark.parametrize("stderr", [subprocess.PIPE, subprocess.STDOUT])
def test_a_job_whose_output_is_cut_off_is_held_and_has_a_record(
    tmp_path: Path, stderr: int
) -> None:
    with started(tmp_path, stderr) as process:
        assert process.stdin and process.stdout
        process.stdout.readline()
        process.stdout.close()
        process.stdin.write("yes\n" * 3)
        process.stdin.close()
        told = process.stderr.read() if process.stderr else ""
    assert process.returncode == 3
    assert (tmp_path / "record.html").exists()
    if stderr == subprocess.PIPE:
        lines = [line.partition(";")[0] for line in told.splitlines()]
        assert lines == [
            "gloveside: nobody reads any more what the job prints",
            "The job is not finished. The same command continues it.",
        ]
    assert run(tmp_path, *REPLIES[len(entries(tmp_path)) - 1 :]).code == 0


def test_a_killed_job_continues(tmp_path: Path) -> None:
    with started(tmp_path) as process:
        assert process.stdin and process.stdout
        process.stdin.write("".join(f"{reply}\n" for reply in REPLIES[:18]))
        process.stdin.flush()
        for line in process.stdout:
            if "Changed over already" in line:
                break
        process.send_signal(signal.SIGKILL)
    confirmed = [entry["confirmed"] for entry in entries(tmp_path) if "confirmed" in entry]
    assert {
        "open-end/read": {"contacts": {"1": "closed", "2": "closed", "3": "open", "4": "open"}}
    } in confirmed
    assert run(tmp_path, *REPLIES[18:]).code == 0


def test_a_job_folder_at_which_one_may_not_look_is_named(tmp_path: Path) -> None:
    outcome = run(tmp_path / TOO_LONG, "yes")
    assert outcome.code == 2
    assert "cannot be looked at: File name too long; choose a job folder" in outcome.err


def test_a_sheet_whose_name_the_journal_could_not_keep_begins_no_job(tmp_path: Path) -> None:
    sheet = tmp_path / "kf\udcff.yaml"  # as Python has the byte FF in a name
    sheet.write_text(KF_07.read_text())
    outcome = run(tmp_path / "job", "yes", unit=sheet)
    assert outcome.code == 2
    assert "the file's name is no UTF-8; rename it" in outcome.err
    assert not (tmp_path / "job").exists()


def test_a_job_is_not_begun_from_its_own_copies(tmp_path: Path) -> None:
    copy = tmp_path / "sources" / "unit" / "kf-07.yaml"
    copy.parent.mkdir(parents=True)
    copy.write_text(KF_07.read_text())
    outcome = run(tmp_path, "yes", unit=copy)
    assert outcome.code == 2
    assert "is the job's own copy" in outcome.err
    assert "or another job folder" in outcome.err
    assert copy.read_text() == KF_07.read_text()


def test_a_finished_job_is_not_done_again(tmp_path: Path) -> None:
    run(tmp_path, *REPLIES)
    outcome = run(tmp_path, "yes")
    assert outcome.code == 2
    assert "finished" in outcome.err


def test_a_job_keeps_to_the_sheet_with_which_it_began(tmp_path: Path) -> None:
    sheet = tmp_path / "unit.yaml"
    sheet.write_text(KF_07.read_text())
    job = tmp_path / "job"
    run(job, *REPLIES[:15], unit=sheet)
    sheet.write_text(sheet.read_text().replace("value: 1.5", "value: 1.25"))
    outcome = run(job, *REPLIES[15:], unit=sheet)
    assert outcome.code == 0
    assert "one and a half turns" in outcome.out


def test_a_source_that_was_changed_in_the_job_folder_is_refused(tmp_path: Path) -> None:
    run(tmp_path, *REPLIES[:15])
    copy = tmp_path / "sources" / "unit" / "kf-07.yaml"
    copy.write_text(copy.read_text().replace("value: 1.5", "value: 1.25"))
    outcome = run(tmp_path, *REPLIES[15:])
    assert outcome.code == 2
    assert "kf-07.yaml: was changed since the job began" in outcome.err


def test_a_journal_that_was_edited_is_refused_and_its_line_named(tmp_path: Path) -> None:
    run(tmp_path, *REPLIES[:18])
    journal = tmp_path / "journal.jsonl"
    journal.write_text(journal.read_text().replace('"text":"clockwise"', '"text":"clockwisx"'))
    assert "journal.jsonl:" in run(tmp_path, *REPLIES[18:]).err
    assert gloveside("verify", tmp_path).code == 1


def test_no_journal_and_no_recording_where_verify_and_record_look(tmp_path: Path) -> None:
    for verb in ("verify", "record"):
        outcome = gloveside(verb, tmp_path)
        assert outcome.code != 0
        assert "journal.jsonl" in outcome.err


def test_a_job_is_not_continued_on_another_unit_or_by_another_procedure(tmp_path: Path) -> None:
    run(tmp_path, *REPLIES[:7])
    other = run(tmp_path, *REPLIES[7:], unit=KF_07.with_name("kf-12.yaml"))
    assert other.code == 2
    assert "this job is on KF-07" in other.err


def test_a_job_that_never_began_has_no_record_and_gives_no_traceback(tmp_path: Path) -> None:
    first = gloveside(
        "run",
        two_ends(),
        "--unit",
        KF_07,
        "--job",
        tmp_path,
        "--ears",
        tmp_path / "none",
        "--voice",
        "off",
    )
    assert first.code != 0
    outcome = gloveside("record", tmp_path)
    assert outcome.code != 0
    assert outcome.err


@pytest.mark.parametrize(
    "body",
    [
        {},
        {"sources": [], "job": {}},
        {"sources": {"../x": "0"}, "job": {"procedure_file": "../x", "unit_file": "../x"}},
        {"sources": {}, "job": {"procedure_file": 1, "unit_file": "x"}},
    ],
)
def test_a_forged_first_line_is_named_and_gives_no_traceback(
    tmp_path: Path, body: dict[str, object]
) -> None:
    first = {"kind": "opened", "format": "gloveside-journal/1", **body}
    (tmp_path / "journal.jsonl").write_bytes(link(None, 1, NOW, first).line + b"\n")
    outcome = gloveside("verify", tmp_path)
    assert outcome.code == 1
    assert "error" in outcome.out


def test_a_folder_that_holds_something_else_keeps_it(tmp_path: Path) -> None:
    mine = tmp_path / "sources" / "mine.txt"
    mine.parent.mkdir()
    mine.write_text("not this program's")
    run(tmp_path, *REPLIES[:3])
    assert mine.read_text() == "not this program's"
    sources = entries(tmp_path)[0]["sources"]
    assert isinstance(sources, dict)
    assert "sources/mine.txt" not in sources
    assert "sources/unit/kf-07.yaml" in sources


def flagship(job: Path, *more: str, typed: str | bytes = "") -> Outcome:
    options = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    return gloveside("run", FLAGSHIP, *options, *more, typed=typed)


def as_options(papers: dict[str, str]) -> list[str]:
    return [word for name, text in papers.items() for word in ("--paper", f"{name}={text}")]


def test_the_papers_of_a_job_are_read_back_and_kept(tmp_path: Path) -> None:
    outcome = flagship(tmp_path, *as_options(PAPERS), typed="yes\nyes\n")
    assert outcome.code == 3
    assert "technician romeo victor, checker juliet tango" in outcome.out
    job = entries(tmp_path)[0]["job"]
    assert isinstance(job, dict)
    assert job["papers"] == PAPERS


@pytest.mark.parametrize(
    ("papers", "essence"),
    [
        ({}, "papers are missing: technician, checker"),
        ({}, "give each as --paper NAME=TEXT"),
        ({**PAPERS, "tester-due": "soon"}, "write it like 2031-05-14"),
        ({**PAPERS, "tester-do": "2099-12-31"}, "did you mean 'tester-due'?"),
        ({**PAPERS, "checker": "--"}, "no letters or digits"),
        ({**PAPERS, "checker": "Ж"}, "write it in letters from A to Z and digits"),
        ({**PAPERS, "checker": "José"}, "write it in letters from A to Z and digits"),
        ({**PAPERS, "technician": "R\udcffV"}, "write it in letters from A to Z and digits"),
    ],
)
def test_papers_that_are_wrong_are_named_with_the_remedy(
    tmp_path: Path, papers: dict[str, str], essence: str
) -> None:
    outcome = flagship(tmp_path / "job", *as_options(papers))
    assert outcome.code == 2
    assert essence in outcome.err
    assert not (tmp_path / "job" / "journal.jsonl").exists()


CLOSED = "import sys; sys.stdin = None"
"""As Python has it where the standard input was closed (documentation of `sys.stdin`)."""

AT_A_TERMINAL = "import sys; sys.stdin.isatty = lambda: True"


@pytest.mark.parametrize(
    ("start", "essence"),
    [
        (CLOSED, "papers are missing: technician, checker"),
        (AT_A_TERMINAL, "the paper 'checker' is missing: type it, or give it as --paper checker="),
    ],
)
def test_an_input_that_ends_at_a_paper_names_what_is_missing(
    tmp_path: Path, start: str, essence: str
) -> None:
    options = ("--unit", KF_07, "--job", tmp_path / "job", "--ears", "typed", "--voice", "off")
    outcome = spoiled(start, "run", FLAGSHIP, *options, typed="RV\n")
    assert outcome.code == 2
    assert essence in outcome.err
    assert not (tmp_path / "job").exists()


def test_a_job_whose_standard_input_is_closed_hears_nothing_and_is_held(tmp_path: Path) -> None:
    options = ("--unit", KF_07, "--job", tmp_path, "--ears", "typed", "--voice", "off")
    outcome = spoiled(CLOSED, "run", two_ends(), *options)
    assert outcome.code == 3
    assert "The same command continues it" in outcome.err
    assert "failed" not in outcome.err


@pytest.mark.parametrize("paper", ["technician=ZZ", "shift=night"])
def test_a_job_is_not_continued_under_other_papers(tmp_path: Path, paper: str) -> None:
    assert flagship(tmp_path, *as_options(PAPERS), typed="yes\n").code == 3
    assert flagship(tmp_path, "--paper", "technician=RV", typed="yes\n").code == 3
    outcome = flagship(tmp_path, "--paper", paper, typed="yes\n")
    assert outcome.code == 2
    assert "this job was begun with" in outcome.err
    assert "leave --paper out" in outcome.err


def test_typed_bytes_that_are_no_text_are_only_not_understood(tmp_path: Path) -> None:
    outcome = flagship(tmp_path, *as_options(PAPERS), typed=b"\xff\xfe\nyes\n")
    assert outcome.code == 3
    assert "Traceback" not in outcome.err
    heard = [one["heard"] for one in entries(tmp_path) if one["kind"] == "heard"]
    assert [one["text"] for one in heard if isinstance(one, dict)][1:] == ["yes"]


def test_one_person_cannot_be_both_and_an_overdue_tester_proves_nothing(tmp_path: Path) -> None:
    # Another person: DOE-STD-1036-93. Calibration due dates: 10 CFR 72.174.
    same = flagship(tmp_path / "a", *as_options({**PAPERS, "checker": "r.v."}))
    assert "same person" in same.out
    old = flagship(
        tmp_path / "b", *as_options({**PAPERS, "tester-due": "2020-02-29"}), typed="yes\n"
    )
    assert "overdue" in old.out


@pytest.mark.parametrize(
    ("lacking", "ears"),
    [("moonshine-tiny-en", "mic"), ("moonshine-tiny-en", "said"), ("silero-vad", "mic")],
)
@pytest.mark.parametrize("folder_is_there", [True, False])
def test_without_a_model_no_job_is_begun(
    tmp_path: Path, lacking: str, ears: str, folder_is_there: bool
) -> None:
    models = tmp_path / "models"
    for name in ("moonshine-tiny-en", "silero-vad"):
        if name != lacking or folder_is_there:
            (models / name).mkdir(parents=True)
        for file in () if name == lacking else catalogue()[name].files:
            (models / name / file.name).touch()
    start = f"import os; os.environ['GLOVESIDE_MODELS'] = {str(models)!r}"
    options = ("--unit", KF_07, "--job", tmp_path / "job", "--ears", ears, "--voice", "off")
    outcome = spoiled(start, "run", two_ends(), *options)
    assert outcome.code == 2
    assert f"'gloveside model fetch {lacking}'" in outcome.err
    assert not (tmp_path / "job").exists()


READ_BY_LENGTH = f"""
import os
from types import SimpleNamespace
from assistant.cli import hearing
from assistant.speech.typed import understood
replies = {REPLIES!r}
hearing.require_model = lambda *_: None
def recognise(samples, grammar):
    return understood(replies[len(samples) // 1600 - 1], grammar, "by length")
hearing.open_recogniser = lambda _: SimpleNamespace(name="by length", recognise=recognise)
"""
"""A recogniser to which a recording of so many tenths of a second is the reply of that number."""


def test_a_folder_of_recordings_goes_on_after_the_last_that_was_heard(tmp_path: Path) -> None:
    job, said = tmp_path / "job", tmp_path / "said"
    said.mkdir()
    options = ("--unit", KF_07, "--job", job, "--ears", said, "--voice", "off")
    for number in range(3):
        wav.write(said / f"{number}.wav", np.zeros(1600 * (number + 1), np.float32))
    first = spoiled(READ_BY_LENGTH, "run", two_ends(), *options)
    assert first.code == 3, first.err
    for number in range(3, 6):
        wav.write(said / f"{number}.wav", np.zeros(1600 * (number + 1), np.float32))
    assert spoiled(READ_BY_LENGTH, "run", two_ends(), *options).code == 3
    heard = [one["heard"] for one in entries(job) if one["kind"] == "heard"]
    assert [one["text"] for one in heard if isinstance(one, dict)] == list(REPLIES[:6])


def test_a_procedure_that_has_nothing_to_do_with_valves_needs_no_unit(tmp_path: Path) -> None:
    replies = (
        *("yes", "dormant", "twelve millimetres", "correct", "done", "yes", "mark", "mark"),
        *("skip this step", "yes", "the label is lost", "yes", "technician"),
    )
    outcome = gloveside(
        *("run", ROOT / "procedures" / "graft-scion.yaml", "--job", tmp_path),
        *("--ears", "typed", "--voice", "off", "--paper", "grafter=MK", "--paper", "row=7"),
        typed="".join(f"{reply}\n" for reply in replies),
    )
    assert outcome.code == 0, outcome.err
    assert entries(tmp_path)[-1]["skipped"] == {"step": "label", "by": "technician"}
    assert gloveside("verify", tmp_path).code == 0


@pytest.mark.parametrize(
    ("word", "ears", "says"),
    [
        ("kingfisher", "typed", "--wake-word is for the microphone"),
        ("hold", "mic", "'hold' cannot be the wake word: it is said in jobs"),
    ],
)
def test_a_wake_word_that_cannot_work_is_refused(
    tmp_path: Path, word: str, ears: str, says: str
) -> None:
    job = ("--unit", KF_07, "--job", tmp_path / "job")
    outcome = gloveside("run", two_ends(), *job, "--ears", ears, "--wake-word", word)
    assert outcome.code == 2
    assert says in outcome.err
    assert not (tmp_path / "job").exists()


FULL_DISK = """
import assistant.journal.store as store
write, written = store.write_all, []
def write_all(handle, data):
    if len(written) == 3:
        raise OSError(28, "No space left on device")
    written.append(data)
    write(handle, data)
store.write_all = write_all
"""

FAULT = """
from assistant.session.core import Session
receive, received = Session.receive, []
def failing(self, event):
    received.append(event)
    return receive(self, event) if len(received) < 4 else {}["gone"]
Session.receive = failing
"""


def run_spoiled(start: str, job: Path, *more: str) -> Outcome:
    options = ("--unit", KF_07, "--job", job, "--ears", "typed", "--voice", "off")
    typed = "".join(f"{reply}\n" for reply in REPLIES)
    return spoiled(start, "run", two_ends(), *options, *more, typed=typed)


@pytest.mark.parametrize(
    ("start", "says"),
    [
        (FULL_DISK, "journal.jsonl: the entry could not be written (No space left on device)"),
        (FAULT, "the program itself failed (KeyError 'gone', in <string>, line 6)"),
    ],
)
def test_what_ends_a_job_is_said_and_told_in_words_and_the_job_goes_on_later(
    tmp_path: Path, start: str, says: str
) -> None:
    outcome = run_spoiled(start, tmp_path)
    assert outcome.code == 3
    assert outcome.out.splitlines()[-1] == JOB_STOPPED
    assert says in outcome.err  # and no traceback, which every outcome is looked at for
    assert len(entries(tmp_path)) == 3
    assert run(tmp_path, *REPLIES[2:]).code == 0


FULL_AT_THE_END = """
import assistant.journal.store as store
write = store.write_all
def write_all(handle, data):
    if b'"finished":true' in data:
        raise OSError(28, "No space left on device")
    write(handle, data)
store.write_all = write_all
"""


def test_a_job_whose_last_line_could_not_be_written_is_not_finished(tmp_path: Path) -> None:
    outcome = run_spoiled(FULL_AT_THE_END, tmp_path)
    assert outcome.code == 3
    assert "The job is not finished. The same command continues it." in outcome.err
    assert "Write four words" not in outcome.out  # of a root that does not stand
    assert run(tmp_path, REPLIES[-1]).code == 0
    assert entries(tmp_path)[-1]["finished"] is True


UNSPEAKABLE_WORDS = """
import assistant.cli.attend as attend
import assistant.speech.voice.voices as voices
from assistant.cli.conduct import WORDS_FOR_THE_ORDER
from assistant.speech.errors import DeviceError, VoiceError
attend.BETWEEN_LOOKS, attend.look_again, failures = 0.0, lambda: None, []
say = voices.PrintedVoice.say
def failing(self, text):
    if text.startswith(WORDS_FOR_THE_ORDER):
        failures.append(text)
        if fails(len(failures)):
            raise error
    say(self, text)
voices.PrintedVoice.say = failing
"""

FAILS_ONCE = """
error = DeviceError("the loudspeaker was unplugged")
fails = lambda times: times == 1
"""
NEVER_THERE_AGAIN = """
error = DeviceError("the loudspeaker was unplugged")
def fails(times):
    if times > 2:
        raise KeyboardInterrupt
    return True
"""
NOT_RENDERED = """
error = VoiceError("rendered speech cannot be kept")
fails = lambda times: True
"""


@pytest.mark.parametrize("how", [FAILS_ONCE, NEVER_THERE_AGAIN, NOT_RENDERED])
def test_the_words_at_the_end_prove_the_file_whatever_fails_while_they_are_said(
    tmp_path: Path, how: str
) -> None:
    outcome = run_spoiled(UNSPEAKABLE_WORDS + how, tmp_path)
    assert outcome.code == 0, outcome.err
    assert entries(tmp_path)[-1]["finished"] is True
    told = outcome.err.rpartition("Write four words on the work order: ")[2]
    words = told.partition(".")[0].split(", ")
    verified = gloveside("verify", tmp_path, "--root", *words)
    assert verified.code == 0, verified.out
    assert (f"{', '.join(words)}." in outcome.out) is (how == FAILS_ONCE)
    assert "stands still" not in outcome.err


def test_the_board_shows_it_too(tmp_path: Path) -> None:
    shown = """
from assistant.board.board import Board
Board.show_stopped = lambda self, words, failure: print("Shown:", *words, failure)
"""
    outcome = run_spoiled(FULL_DISK + shown, tmp_path, "--board")
    assert outcome.out.splitlines()[-1].startswith(f"Shown: {JOB_STOPPED} {tmp_path}")
