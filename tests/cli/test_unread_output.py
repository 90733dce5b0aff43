"""Commands whose output nobody reads any more: quiet, and no code that says it was done.

A pipe without a reader fails each write (POSIX, EPIPE).
"""

from __future__ import annotations

import os
import subprocess
import sys

from tests.cli.command import FLAGSHIP, KF_07, ROOT


def unread(*words: str) -> tuple[int, str]:
    """The exit code and the error output of a command whose output has no reader."""
    command = [sys.executable, "-m", "assistant", *words]
    pipe = subprocess.PIPE
    keeping = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    with subprocess.Popen(
        command, stdout=pipe, stderr=pipe, text=True, cwd=ROOT, env=keeping
    ) as process:
        assert process.stdout and process.stderr
        process.stdout.close()
        told = process.stderr.read()
    return process.returncode, told


def test_what_is_broken_off_is_not_told_to_be_done() -> None:
    """A whole procedure as a picture is longer than what Python keeps before it writes (8 KiB)."""
    assert unread("draw", str(FLAGSHIP), "--whole") == (3, "")


def test_what_was_done_before_anything_was_written_keeps_its_code() -> None:
    assert unread("model", "list") == (0, "")
    one_read = ("--while-moving", "opening=clockwise", "--contacts", "1 open, 2 closed")
    assert unread("advise", "--unit", str(KF_07), "--rotor", "open", *one_read) == (1, "")
