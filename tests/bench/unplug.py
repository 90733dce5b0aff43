"""A headset that is unplugged again and again in a job: ``python -m tests.bench.unplug``.

The job runs over a sound server of its own (`tests/sound`), which is taken away and started again
at every second question, in mid-prompt or while the answer is waited for. The job has to come to
its end, and its journal has to verify.
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

from assistant.journal.store import read
from assistant.speech.voice.rendering import Renderer
from tests.cli.command import FLAGSHIP, KF_07, gloveside
from tests.sound.dropouts import Dropouts
from tests.sound.person import Person
from tests.sound.server import PLAYED, SAID, SoundServer, lacking, program
from tests.units import PAPERS


def main() -> None:
    """Unplug, and tell what came of it."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--times", type=int, default=50)
    times = options.parse_args().times
    if lacks := lacking():
        raise SystemExit(lacks)
    folder = Path(tempfile.mkdtemp(prefix="unplug-"))
    job = folder / "job"
    papers = [word for name, text in PAPERS.items() for word in ("--paper", f"{name}={text}")]
    command: tuple[str | Path, ...] = ("run", FLAGSHIP, "--unit", KF_07, "--job", job, *papers)
    with (
        SoundServer() as server,
        server.monitor(PLAYED) as played,
        server.monitor(SAID) as said,
        Renderer(folder / "voice") as renderer,
        program(server, *command) as running,
    ):
        dropouts = Dropouts(server, times)
        Person(job, server, played, said, renderer, dropouts.asked).answer(running)
        code = running.wait(timeout=120)
    returned = sum("lost" in entry.body for entry in read(job))
    print(f"Unplugged {dropouts.made} times, came back {returned} times; exit code {code}.")
    print(gloveside("verify", job).out)


if __name__ == "__main__":
    main()
