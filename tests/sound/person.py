"""A person who hears and speaks: the simulated technician, by sound alone.

The person knows the procedure as somebody does who has the journal before their eyes: each line
that the program writes is played on a session of the person's own, so that it is known what is
asked. When the program has fallen silent, the answer is spoken into its microphone.
"""

from __future__ import annotations

import subprocess
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from assistant.cli.job_folder import has_journal, load_job
from assistant.journal.store import read
from assistant.language.completeness import Completeness, completeness
from assistant.rig.as_found import built, found_wrong
from assistant.rig.motor import Motor
from assistant.rig.technician import Technician, plate_of
from assistant.session.effects import Listen, listening
from assistant.session.events import event_from_json
from assistant.speech.voice.rendering import Manner, Renderer
from tests.sound.server import Monitor, SoundServer

__all__ = ["VOICE", "Exchange", "Person"]

FELL_SILENT = 0.7
"""Silence after which the program is taken to have said everything [s]."""

VOICE = "gmw/en-us+f3"


@dataclass(frozen=True, slots=True)
class Exchange:
    """A reply that was spoken.

    Args:
        step: at which step.
        words: what was said.
        whole: whether nothing more was to be expected after it (`language.completeness`).
        ended: when the last of it was played into the microphone (`time.monotonic`).
    """

    step: str
    words: str
    whole: bool
    ended: float


@dataclass(slots=True)
class Person:
    """Answers a job in a folder until the program ends.

    Args:
        folder: of the job.
        server: where the program speaks and hears.
        played: the monitor of what the program plays.
        said: the monitor of what the person says.
        renderer: gives the person a voice.
        asked: is told that something is asked, while it is still being said; whether it saw to it
            that the program has to ask again.
    """

    folder: Path
    server: SoundServer
    played: Monitor
    said: Monitor
    renderer: Renderer
    asked: Callable[[], bool] = lambda: False
    exchanges: list[Exchange] = field(default_factory=list)

    def answer(self, program: subprocess.Popen[str]) -> None:
        """Answer whatever is asked, until the program has ended."""
        while not has_journal(self.folder) or not read(self.folder):
            if program.poll() is not None:
                return
            time.sleep(0.05)
        job = load_job(self.folder, read(self.folder)[0])
        assert job.unit is not None, "the person stands at a valve"
        rig = built(job.unit, found_wrong(job.unit))
        technician = Technician(rig, plate_of(job.unit), Motor(rig, seconds=51.0))
        session, seen = job.session(), 0
        while program.poll() is None:
            entries = read(self.folder)
            asked: Listen | None = None
            for entry in entries[seen:]:
                event = event_from_json(entry.time, entry.body)
                effects = session.receive(event)
                technician.watch(event, effects)
                asked = listening(effects)
            seen = len(entries)
            if asked is not None and not self.asked():
                self._wait_for_silence(program)
                self._speak(asked, technician.reply())
            time.sleep(0.02)

    def _wait_for_silence(self, program: subprocess.Popen[str]) -> None:
        time.sleep(FELL_SILENT)  # what was heard is only now answered
        while self.played.quiet_for() < FELL_SILENT and program.poll() is None:
            time.sleep(0.02)

    def _speak(self, asked: Listen, words: str) -> None:
        self.server.say(self.renderer.render(words, Manner(VOICE, 140)))
        time.sleep(0.3)  # until the monitor has it all
        whole = completeness(asked.grammar, words) is Completeness.WHOLE
        ended = self.said.loud_moments()[-1]
        self.exchanges.append(Exchange(asked.step, words, whole, ended))
