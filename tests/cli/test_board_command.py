"""``gloveside run --board``: the options, and a job that is seen and pressed."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.board.shown import READING
from tests.cli.command import KF_07, ROOT, gloveside, two_ends
from tests.session.job import TO_READING


def run(job: Path, *options: str) -> list[str]:
    return [
        *("run", str(two_ends()), "--unit", str(KF_07), "--job", str(job)),
        *("--ears", "typed", "--voice", "off", *options),
    ]


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--board-keys",), "give --board or --board-at as well"),
        (("--board-at", "192.0.2.7"), "--board-at needs --board-tls CERT KEY"),
        (("--board", "--board-tls", "c.pem", "k.pem"), "--board-tls is for --board-at"),
        (("--board-at", "192.0.2.7:99999", "--board-tls", "c", "k"), "'99999' is no port"),
        (("--board-at", "127.0.0.1", "--board-tls", "c", "k"), "cannot be used as certificate"),
    ],
)
def test_options_that_do_not_go_together_are_refused(
    tmp_path: Path, options: tuple[str, ...], says: str
) -> None:
    outcome = gloveside(*run(tmp_path / "job", *options), typed="")
    assert outcome.code == 2
    assert says in outcome.err


def board_after(typed: str, job: Path) -> str:
    """The first page of a board of a job that was interrupted after these replies."""
    gloveside(*run(job), typed=typed)
    command = [sys.executable, "-m", "assistant", *run(job, "--board")]
    pipe = subprocess.PIPE
    with subprocess.Popen(
        command, stdin=pipe, stdout=pipe, stderr=pipe, text=True, cwd=ROOT
    ) as process:
        assert process.stderr
        found = re.search(r"http://127\.0\.0\.1:\d+/\S+/", process.stderr.readline())
        assert found
        until = time.monotonic() + 20
        while time.monotonic() < until:
            with urllib.request.urlopen(found.group(), timeout=20) as page:
                html = str(page.read().decode())
            if 'data-situation="starting"' not in html:
                break
        process.kill()
    return html


def test_after_a_new_start_the_board_shows_the_direction_once_it_is_told_again(
    tmp_path: Path,
) -> None:
    replies = "\n".join((*TO_READING, READING, "correct", "done", ""))
    assert 'data-turn="counterclockwise"' in board_after(replies, tmp_path / "job")


def test_keys_do_not_go_with_recordings(tmp_path: Path) -> None:
    words = run(tmp_path / "job", "--board", "--board-keys")
    words[words.index("typed")] = str(tmp_path)
    outcome = gloveside(*words)
    assert outcome.code == 2
    assert "--board-keys goes with --ears mic or --ears typed" in outcome.err


def test_without_the_option_there_is_no_board(tmp_path: Path) -> None:
    assert "http" not in gloveside(*run(tmp_path / "job"), typed="yes\n").err


@pytest.fixture
def job(tmp_path: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A job with a board whose answers are pressed, and the board's address."""
    command = [sys.executable, "-m", "assistant", *run(tmp_path / "job", "--board", "--board-keys")]
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    ) as process:
        assert process.stderr
        found = re.search(r"http://127\.0\.0\.1:\d+/\S+/", process.stderr.readline())
        assert found
        yield process, found.group()
        process.kill()


def updates(address: str) -> Iterator[int]:
    with urllib.request.urlopen(f"{address}updates?after=0", timeout=20) as stream:
        for line in stream:
            if line.startswith(b"id: "):
                yield int(line[4:])


def press(address: str, word: str, number: int) -> int:
    place = urlsplit(address)
    request = urllib.request.Request(
        f"{address}press",
        json.dumps({"word": word, "number": number}).encode(),
        {"Origin": f"{place.scheme}://{place.netloc}", "Content-Type": "application/json"},
    )
    with urllib.request.urlopen(request, timeout=20) as answer:
        status = answer.status
    assert isinstance(status, int)
    return status


def test_what_is_pressed_is_journaled_as_pressed_and_verifies(
    tmp_path: Path, job: tuple[subprocess.Popen[str], str]
) -> None:
    process, address = job
    seen = updates(address)
    assert press(address, "yes", next(seen)) == 202
    second = next(seen)
    process.communicate("yes\n", timeout=60)
    assert second == 2
    entries = [json.loads(line) for line in (tmp_path / "job/journal.jsonl").open()]
    assert [(entry["heard"]["engine"], entry["heard"]["text"]) for entry in entries[1:]] == [
        ("pressed", "yes"),
        ("typed", "yes"),
    ]
    assert all(entry["clip"] is None for entry in entries[1:])
    assert gloveside("verify", tmp_path / "job").code == 0
    assert "pressed" in (tmp_path / "job" / "record.html").read_text()
