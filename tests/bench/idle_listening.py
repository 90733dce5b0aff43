"""What listening costs while nobody speaks: ``python -m tests.bench.idle_listening --help``.

A job runs over a sound server of its own (`tests/sound`), machines sound in its microphone, and
nobody answers: it asks again, holds, and goes on listening. Told are the memory of the process, the
time of the processor, and what it took for a reply. Memory is counted from the third minute on,
when everything that is needed has been loaded.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import subprocess
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path

from assistant.journal.store import read
from assistant.language.recognition import Recognition
from assistant.session.events import Heard, event_from_json
from assistant.speech import wav
from tests.bench.parts import Part
from tests.bench.stretches import stretch
from tests.cli.command import KF_07
from tests.sound.server import SoundServer, lacking, program
from tests.sound.test_job_by_sound import SHORT

WARM_UP = 120.0
"""Seconds after which the memory is counted."""

LOOP = 10.0
"""Minutes of noise, which are played again and again."""

BETWEEN_LINES = 600.0
"""Seconds from one line to the next."""


def main() -> None:
    """Listen, and tell every ten minutes what came of it."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--minutes", type=float, default=120.0)
    minutes = options.parse_args().minutes
    if lacks := lacking():
        raise SystemExit(lacks)
    folder = Path(tempfile.mkdtemp(prefix="idle-"))
    job = folder / "job"
    noise = stretch("machine noise", Part.TEST, min(LOOP, minutes), [], {})
    wav.write(folder / "machines.wav", noise)
    with (
        SoundServer() as server,
        program(server, "run", SHORT, "--unit", KF_07, "--job", job) as running,
        _played_again_and_again(server, folder / "machines.wav"),
    ):
        time.sleep(WARM_UP)
        begun, memory, worked = time.monotonic(), _memory(running.pid), _worked(running.pid)
        while running.poll() is None and (passed := time.monotonic() - begun) < minutes * 60:
            time.sleep(min(BETWEEN_LINES, minutes * 60 - passed))
            lasted = time.monotonic() - begun
            grown = (_memory(running.pid) - memory) / 2**20
            share = (_worked(running.pid) - worked) / lasted
            heard = list(_heard(job))
            believed = [one.text for one in heard if one.accepted() is not None]
            print(
                f"{lasted / 60:.0f} min: memory {memory / 2**20:.0f} MiB, grown by {grown:.1f}; "
                f"{share:.1%} of a core; {len(heard)} sounds weighed, {len(believed)} taken for "
                f"a reply {believed}",
                flush=True,
            )


@contextlib.contextmanager
def _played_again_and_again(server: SoundServer, file: Path) -> Iterator[None]:
    over = threading.Event()

    def play() -> None:
        with contextlib.suppress(subprocess.CalledProcessError):  # the server has ended
            while not over.is_set():
                server.say(file)

    threading.Thread(target=play, daemon=True).start()
    try:
        yield
    finally:
        over.set()


def _memory(process: int) -> int:
    """Resident memory [B]."""
    pages = Path(f"/proc/{process}/statm").read_text(encoding="ascii").split()[1]
    return int(pages) * os.sysconf("SC_PAGE_SIZE")


def _worked(process: int) -> float:
    """Time of the processor, of the program and the system for it [s]."""
    after_name = Path(f"/proc/{process}/stat").read_text(encoding="ascii").rpartition(")")[2]
    user, system = after_name.split()[11:13]
    return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")


def _heard(job: Path) -> Iterator[Recognition]:
    """What was weighed as a reply."""
    for entry in read(job):
        event = event_from_json(entry.time, entry.body)
        if isinstance(event, Heard):
            yield event.recognition


if __name__ == "__main__":
    main()
