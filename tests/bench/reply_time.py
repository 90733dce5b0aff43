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
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np

from assistant.journal.entry import Entry
from assistant.journal.store import read
from assistant.speech.voice.rendering import Renderer
from tests.cli.command import FLAGSHIP, KF_07
from tests.sound.person import Exchange, Person
from tests.sound.server import PLAYED, SAID, SoundServer, lacking, program
from tests.units import PAPERS

MOST_TOLD = 12
"""Replies that were answered latest."""


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
    measured = list(waits(person.exchanges, entries, played.loud_moments()))
    whole = [one for one in measured if one.whole]
    print("| from the last sound of a reply | replies | median | p95 | longest |")
    print("| --- | ---: | ---: | ---: | ---: |")
    print(line("all: to the first sound of the answer", [one.answered for one in measured]))
    print(line("whole answers: to the first sound", [one.answered for one in whole]))
    print(line("whole answers: to the decision", [one.decided for one in whole]))
    print(line("all: from the decision to the sound", [one.acted for one in measured]))
    longest = sorted(measured, key=lambda one: one.answered)[-MOST_TOLD:]
    print("\n".join(f"{one.answered:.2f} s after {one.words!r}" for one in reversed(longest)))


@dataclass(frozen=True, slots=True)
class Wait:
    """How long an answer took [s].

    Args:
        words: of the reply.
        whole: whether nothing more was to be expected after it.
        decided: from its last sound to the moment of the journal's entry: the end of speech and
            recognition.
        answered: from its last sound to the first of the answer.
    """

    words: str
    whole: bool
    decided: float
    answered: float

    @property
    def acted(self) -> float:
        """From the decision to the first sound: journal, rendering, and the device's buffer."""
        return self.answered - self.decided


def waits(
    exchanges: Sequence[Exchange], entries: Sequence[Entry], played: Sequence[float]
) -> Iterator[Wait]:
    """What followed each reply, where anything did."""
    since = time.time() - time.monotonic()
    decisions = [datetime.fromisoformat(entry.time).timestamp() - since for entry in entries]
    for one in exchanges:
        decided = min((at for at in decisions if at > one.ended), default=None)
        answered = min((at for at in played if at > one.ended), default=None)
        if decided is not None and answered is not None:
            yield Wait(one.words, one.whole, decided - one.ended, answered - one.ended)


def line(name: str, times: Sequence[float]) -> str:
    """A line of the table."""
    middle, high, most = np.percentile(times, [50, 95, 100])
    return f"| {name} | {len(times)} | {middle:.2f} s | {high:.2f} s | {most:.2f} s |"


if __name__ == "__main__":
    main()
