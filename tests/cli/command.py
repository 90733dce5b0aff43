"""Run the command as a user does: as a process of its own."""

from __future__ import annotations

import atexit
import functools
import io
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
KF_07 = ROOT / "procedures" / "units" / "kf-07.yaml"
FLAGSHIP = ROOT / "procedures" / "set-geared-limits.yaml"

TOO_LONG = "a" * 300
"""No file can be called so: 255 bytes are the most on the file systems of Linux (NAME_MAX). Looking
for it fails as in a folder that may not be searched, and that nobody can keep from root."""


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


def gloveside(*words: str | Path, typed: str | bytes = "") -> Outcome:
    return _python("-m", "assistant", *map(str, words), typed=typed)


def spoiled(start: str, *words: str | Path, typed: str = "") -> Outcome:
    """The command in a process in which `start`, a piece of Python, ran before."""
    code = f"{start}\nfrom assistant.cli.main import main\nraise SystemExit(main())"
    return _python("-c", code, *map(str, words), typed=typed)


def _python(*arguments: str, typed: str | bytes) -> Outcome:
    done = subprocess.run(
        [sys.executable, *arguments],
        input=typed.encode("utf-8") if isinstance(typed, str) else typed,
        capture_output=True,
        timeout=300,
        check=False,
        cwd=ROOT,
    )
    out, err = map(_text, (done.stdout, done.stderr))
    assert "Traceback" not in err, err
    return Outcome(done.returncode, out, err)


def _text(written: bytes) -> str:
    """As a text file is read, its line ends made one kind."""
    return io.TextIOWrapper(io.BytesIO(written), encoding="utf-8").read()
