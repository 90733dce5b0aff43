"""Run the command as a user does: as a process of its own."""

from __future__ import annotations

import atexit
import functools
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
KF_07 = ROOT / "procedures" / "units" / "kf-07.yaml"
FLAGSHIP = ROOT / "procedures" / "set-geared-limits.yaml"


@functools.cache
def two_ends() -> Path:
    """The short job of the session tests, in a folder with the shipped parts."""
    folder = Path(tempfile.mkdtemp(prefix="two-ends-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    shutil.copytree(ROOT / "procedures" / "parts", folder / "parts")
    return Path(shutil.copy(ROOT / "tests" / "session" / "two-ends.yaml", folder))


@dataclass(frozen=True)
class Outcome:
    code: int
    out: str
    err: str


def gloveside(*words: str | Path, typed: str = "") -> Outcome:
    return _python("-m", "assistant", *map(str, words), typed=typed)


def spoiled(start: str, *words: str | Path, typed: str = "") -> Outcome:
    """The command in a process in which `start`, a piece of Python, ran before."""
    code = f"{start}\nfrom assistant.cli.main import main\nraise SystemExit(main())"
    return _python("-c", code, *map(str, words), typed=typed)


def _python(*arguments: str, typed: str) -> Outcome:
    done = subprocess.run(
        [sys.executable, *arguments],
        input=typed,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
        cwd=ROOT,
    )
    assert "Traceback" not in done.stderr, done.stderr
    return Outcome(done.returncode, done.stdout, done.stderr)
