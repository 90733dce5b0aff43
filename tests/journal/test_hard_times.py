"""The command where the machine fails it: killed, no room, a clock set back, a second process."""

from __future__ import annotations

import json
import random
import subprocess
import sys
from pathlib import Path

import pytest

from assistant.journal import chain
from tests.bench.clip_kills import clip_kills
from tests.bench.kills import REPLIES, kills_of_a_job
from tests.cli.command import KF_07, ROOT, gloveside, spoiled, two_ends

JOURNAL = "journal.jsonl"


def words(job: Path) -> list[str]:
    options = ["--unit", str(KF_07), "--job", str(job), "--ears", "typed", "--voice", "off"]
    return ["run", str(two_ends()), *options]


def typed(*replies: str) -> str:
    return "".join(f"{reply}\n" for reply in replies)


def lines(job: Path) -> list[bytes]:
    return (job / JOURNAL).read_bytes().splitlines(keepends=True)


def test_killed_again_and_again_a_job_loses_nothing(tmp_path: Path) -> None:
    # A slice of tests/bench/kills.py, which also checks the job that comes out.
    kills = list(kills_of_a_job(tmp_path, random.Random(5), most=14))
    assert len(kills) >= 5
    assert [kill for kill in kills if kill.lost] == []


@pytest.mark.parametrize("room", [0, 1, 700])
def test_a_full_disk_stops_the_job_and_it_continues_when_there_is_room(
    tmp_path: Path, room: int
) -> None:
    gloveside(*words(tmp_path), typed=typed(*REPLIES[:19]))
    sources = [file for file in (tmp_path / "sources").rglob("*") if file.is_file()]
    before = {file: file.read_bytes() for file in [tmp_path / JOURNAL, *sources]}
    size = len(before[tmp_path / JOURNAL]) + room
    # A limit on a file's size fails a write as a full disk does, in the middle of a line too.
    full = f"import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, ({size}, {size}))"
    stopped = spoiled(full, *words(tmp_path), typed=typed(*REPLIES[19:]))
    assert stopped.code != 0
    assert f"{tmp_path / JOURNAL}: the entry could not be written" in stopped.err
    assert "make room on the disk" in stopped.err
    assert (tmp_path / JOURNAL).read_bytes().startswith(before.pop(tmp_path / JOURNAL))
    assert chain.check(lines(tmp_path)) == []
    assert all(file.read_bytes() == data for file, data in before.items())
    heard = sum(json.loads(line)["kind"] == "heard" for line in lines(tmp_path))
    assert gloveside(*words(tmp_path), typed=typed(*REPLIES[heard:])).code == 0
    assert gloveside("verify", tmp_path).code == 0


def test_a_record_that_cannot_be_written_does_not_hide_how_the_job_stands(tmp_path: Path) -> None:
    # The lines of the journal fit below the limit, the record, which is far longer, does not.
    full = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, (16000, 16000))"
    outcome = spoiled(full, *words(tmp_path), typed=typed(*REPLIES[:3]))
    assert outcome.code == 3
    assert "record.html: cannot be written" in outcome.err
    assert "The same command continues it" in outcome.err
    review = ("review", tmp_path, "--checker", "JT", "--ears", "typed", "--voice", "off")
    reviewed = spoiled(full, *review, typed=typed("wrong", "yes", "correct"))
    assert reviewed.code == 3
    assert "record.html: cannot be written" in reviewed.err
    assert "To clear it" in reviewed.out
    assert not list(tmp_path.rglob("*.part"))


def test_a_folder_that_cannot_be_made_is_named_and_nothing_begins() -> None:
    # Nobody, however privileged, can make a folder there.
    outcome = gloveside(*words(Path("/proc/job")), typed="yes\n")
    assert outcome.code == 2
    assert "/proc/job: the job folder cannot be written" in outcome.err
    assert "choose another" in outcome.err
    assert not outcome.out


def test_a_clock_set_back_is_told_counts_as_a_break_and_stops_nothing(tmp_path: Path) -> None:
    back = """
import itertools, assistant.cli.run as run
seconds = itertools.chain([3599], itertools.count(8))
run.clock = lambda: "2031-05-14T08:%02d:%02d.000Z" % divmod(next(seconds), 60)
"""
    # The first answer does not count: nobody knows how much later it came.
    outcome = spoiled(back, *words(tmp_path), typed=typed("yes", "yes", *REPLIES))
    assert outcome.code == 0
    assert "or the clock was set back. That counts as a break." in outcome.out
    outcome = gloveside("verify", tmp_path)
    assert outcome.code == 0
    assert f"{JOURNAL}:2: notice time went back from 2031-05-14T08:59" in outcome.out
    assert "check the clock" in outcome.out


def test_a_second_process_on_the_job_is_refused_and_the_first_goes_on(tmp_path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "assistant", *words(tmp_path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    ) as first:
        assert first.stdin and first.stdout
        first.stdout.readline()
        before = (tmp_path / JOURNAL).read_bytes()
        second = gloveside(*words(tmp_path), typed=typed(*REPLIES))
        assert second.code == 1
        assert "another gloveside is at work on this job; end that one first" in second.err
        assert not second.out
        assert (tmp_path / JOURNAL).read_bytes() == before
        first.stdin.write(typed(*REPLIES))
        first.stdin.close()
        first.stdout.read()
        assert first.wait() == 0
    assert gloveside("verify", tmp_path).code == 0


def test_a_process_that_is_killed_while_it_keeps_a_clip_leaves_no_entry_without_its_clip(
    tmp_path: Path,
) -> None:
    kills = list(clip_kills(tmp_path, random.Random(1), 5))
    assert len(kills) == 5
    assert kills[-1].entries > 1
