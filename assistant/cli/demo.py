"""``gloveside demo``: the whole job on a simulated actuator, through the real recogniser.

A simulated technician does what the program says on the rig, and answers in words. The words are
turned into sound, the sound goes through the recogniser under the grammar of the step, and only
what was recognised drives the job. Work on the rig takes no time here, so the journal's clock is
put forward, from some time ago, by what a person would take. At the end the rig's trip points are
measured against the contact development.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from assistant.cli.board import add_board, open_board
from assistant.cli.complaint import Complaint, Exit
from assistant.cli.conduct import Conductor
from assistant.cli.files import shipped
from assistant.cli.job_folder import Job, create_sources, has_journal, opening_of
from assistant.cli.recognisers import add_recogniser, open_recogniser
from assistant.cli.record import write_record
from assistant.cli.speaker import Speaker, pacer
from assistant.cli.transcript import Transcript
from assistant.cli.trips import print_trips
from assistant.cli.voices import open_renderer
from assistant.journal.entry import timestamp
from assistant.journal.store import Journal
from assistant.language.grammar import Grammar
from assistant.rig.actuator import Actuator
from assistant.rig.as_found import built, found_wrong
from assistant.rig.motor import Motor
from assistant.rig.technician import Slip, Technician, TechnicianLost, plate_of
from assistant.session.core import Session
from assistant.speech import wav
from assistant.speech.devices.loudspeaker import Loudspeaker
from assistant.speech.ears import SAMPLE_RATE, Ended, Recogniser, Reply, Spoken
from assistant.speech.errors import DeviceError
from assistant.speech.voice.rendering import Manner, Renderer
from assistant.speech.voice.voices import FolderVoice, MuteVoice, Player, SpokenVoice, Voice

__all__ = ["arguments", "run"]

TECHNICIAN = "gmw/en-us+f3"
"""The technician's voice; the program's own is another."""

PACES = (140, 120, 160)
"""Words a minute: a person who was not understood says it again in another way."""

MOST_REPLIES = 200
"""After so many the technician gives up: something goes round in circles."""

PAPERS = {"technician": "RV", "checker": "JT", "work-order": "W417", "tester": "T12"}
"""Invented people and papers."""

CALIBRATED_FOR = timedelta(days=90)

AGO = timedelta(minutes=45)
"""The demo's job lies in the past, so that whatever is done with it afterwards comes after it."""

STROKE_SECONDS = 51.0

SLIPS = (
    Slip("open-end/set/read", "one closed two open three and four open", noticed=False),
    Slip("open-end/set/check-left", "say again", noticed=False),
)
"""A misread contact that the technician believes in, and a prompt that was not caught."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument(
        "--job", type=Path, metavar="FOLDER", help="the job folder (default: fresh)"
    )
    parser.add_argument("--paced", action="store_true", help="take the time that speaking takes")
    parser.add_argument(
        "--prompts", type=Path, metavar="FOLDER", help="also keep the spoken prompts as WAV files"
    )
    add_recogniser(parser)
    add_board(parser)


def run(args: argparse.Namespace) -> Exit:
    """Play the job; a rotor that ends up set wrong, or a job that does not end, is a problem."""
    folder = args.job or Path(tempfile.mkdtemp(prefix="gloveside-demo-"))
    if has_journal(folder):
        raise Complaint(f"{folder}: a job was begun there; name another folder")
    recogniser = open_recogniser(args.recogniser)
    procedures = shipped("procedures")
    job = create_sources(
        folder,
        procedures / "set-geared-limits.yaml",
        procedures / "units" / "kf-07.yaml",
        {**PAPERS, "tester-due": (date.today() + CALIBRATED_FOR).isoformat()},
    )
    assert job.unit is not None, "it was named"
    rig = built(job.unit, found_wrong(job.unit))
    print(f"Job folder: {folder}")
    print_trips("As the rig stands", rig)
    began = time.monotonic()
    try:
        session = _play(args, job, rig, recogniser)
    except TechnicianLost as lost:
        raise Complaint(f"the simulated technician cannot follow the procedure: {lost}") from lost
    print(f"\n{session.questions} questions answered in {time.monotonic() - began:.1f} s.")
    right = print_trips("As left", rig)
    print(f"Record: {write_record(folder)}")
    if not session.finished:
        print("The job did not come to its end.")
    return Exit.DONE if right and session.finished else Exit.PROBLEMS


def _play(args: argparse.Namespace, job: Job, rig: Actuator, recogniser: Recogniser) -> Session:
    player = _player() if args.paced else None
    technician = Technician(rig, plate_of(rig.unit), Motor(rig, seconds=STROKE_SECONDS), SLIPS)
    transcript = Transcript(job.program, sys.stdout)
    session = job.session()
    with (
        Journal.create(job.folder) as journal,
        open_renderer() as renderer,
        open_board(args, job, journal, []) as board,
    ):
        voice = _voice(args.prompts, player, renderer)
        conductor = Conductor(
            session=session,
            journal=journal,
            folder=job.folder,
            ears=_TechnicianEars(technician, transcript, renderer, recogniser, player),
            speaker=Speaker(voice, lambda _effect: None, pacer(voice)),
            clock=lambda: _time_of(technician),
            watchers=(*board.watchers, transcript.watch, technician.watch),
        )
        conductor.begin(opening_of(job))
    return session


def _time_of(technician: Technician) -> str:
    """The time of the demo's job, with what a person would have taken so far."""
    return timestamp(datetime.now(UTC) - AGO + timedelta(seconds=technician.seconds))


class _Pause:
    """A player without a loudspeaker: takes the time that the sound takes."""

    def play(self, sound: wav.Sound) -> None:
        """Wait as long as the sound lasts."""
        time.sleep(sound.seconds)

    def play_through(self, sound: wav.Sound) -> None:
        """The same."""
        self.play(sound)

    def begin(self, sound: wav.Sound) -> None:
        """Nothing to wait for."""

    def stop(self) -> None:
        """Nothing to cut off."""

    def close(self) -> None:
        """Nothing to let go of."""


def _player() -> Player:
    try:
        return Loudspeaker()
    except DeviceError as error:
        print(f"No sound, only its pace: {error}")
        return _Pause()


def _voice(prompts: Path | None, player: Player | None, renderer: Renderer) -> Voice:
    if prompts is not None:
        return FolderVoice(prompts, renderer)
    return MuteVoice() if player is None else SpokenVoice(renderer, player)


@dataclass(slots=True)
class _TechnicianEars:
    """Ears that hear the simulated technician, by sound and through the recogniser alone."""

    technician: Technician
    transcript: Transcript
    renderer: Renderer
    recogniser: Recogniser
    player: Player | None
    _replies: int = 0
    _misses: int = 0

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """One reply, at once: `patience` has no effect."""
        self._replies += 1
        if self._replies > MOST_REPLIES:
            return Ended()
        words = self.technician.reply()
        self.transcript.technician_says(words)
        manner = Manner(TECHNICIAN, PACES[self._misses % len(PACES)])
        samples = wav.read(self.renderer.render(words, manner))
        if self.player is not None:
            self.player.play(wav.Sound(samples, SAMPLE_RATE))
        recognition = self.recogniser.recognise(samples, grammar)
        self._misses = self._misses + 1 if recognition.accepted() is None else 0
        return Spoken(recognition, samples)
