"""How soon the program answers, by sound: ``python -m tests.bench.reply_time --help``.

A whole job runs over a sound server of its own (`tests/sound`): the program is a process that plays
and hears, and the person speaks when it has fallen silent. Measured is the time from the last sound
of a reply, as it comes out of the person's sink, to the first sound of what the program says to it,
as it comes out of the program's. It holds the wait for the end of speech, recognition, the write of
the journal to the disk, the rendering of what was not rendered before, and both devices' buffers.
The tones are off: the one for "understood" would be the first sound.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np

from assistant.journal.store import read
from assistant.speech.voice.rendering import Renderer
from tests.cli.command import FLAGSHIP, KF_07
from tests.sound.person import Exchange, Person
from tests.sound.server import PLAYED, SAID, SoundServer, lacking, program
from tests.units import PAPERS


def main() -> None:
    """Run a job and print the times."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--procedure", type=Path, default=FLAGSHIP)
    options.add_argument("--unit", type=Path, default=KF_07)
    options.add_argument("--job", type=Path, help="folder (default: a fresh one)")
    chosen = options.parse_args()
    if lacks := lacking():
        raise SystemExit(lacks)
    folder = Path(tempfile.mkdtemp(prefix="by-sound-"))
    job = chosen.job or folder / "job"
    papers = [word for name, text in PAPERS.items() for word in ("--paper", f"{name}={text}")]
    command = (
        "run",
        chosen.procedure,
        "--unit",
        chosen.unit,
        "--job",
        job,
        "--tones",
        "off",
        *papers,
    )
    with (
        SoundServer() as server,
        server.monitor(PLAYED) as played,
        server.monitor(SAID) as said,
        Renderer(folder / "voice") as renderer,
        program(server, *command) as running,
    ):
        person = Person(job, server, played, said, renderer)
        person.answer(running)
        code = running.wait(timeout=120)
    entries = read(job)
    failed = sum("failed" in entry.body for entry in entries)
    print(f"Exit code {code}; {len(person.exchanges)} replies, {failed} not understood at once.")
    times = np.array(list(waits(person.exchanges, played.loud_moments())))
    for share in (50, 95, 100):
        print(f"p{share}: {np.percentile(times, share):.3f} s")


def waits(exchanges: Sequence[Exchange], played: Sequence[float]) -> Iterator[float]:
    """From the end of each reply to what was played next, if anything was [s]."""
    for one in exchanges:
        following = [at for at in played if at > one.ended]
        if following:
            yield following[0] - one.ended


if __name__ == "__main__":
    main()
