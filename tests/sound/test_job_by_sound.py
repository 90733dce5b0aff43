"""A job from end to end by sound: nothing is a stand-in but the person.

The program runs as a process, plays its prompts to a sound server and hears the person through it.
"""

from __future__ import annotations

import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.journal.store import read
from assistant.kit.self_hearing import HEARD, likeness
from assistant.language.english import english
from assistant.language.meaning import Command, ContactStates, Word
from assistant.language.recognition import Recognition
from assistant.procedure.load import load_program
from assistant.procedure.unit_sheet import load_unit
from assistant.session.core import Session
from assistant.session.effects import Say
from assistant.session.events import Heard, Opened, event_from_json
from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE
from assistant.speech.voice.rendering import Manner, Renderer
from assistant.trade.contacts import ContactState
from tests.cli.command import KF_07, gloveside
from tests.session.job import NOW
from tests.sound.person import VOICE, Person
from tests.sound.server import PLAYED, SAID, SoundServer, lacking, program

SHORT = Path(__file__).with_name("short.yaml")
LONG = SHORT.with_name("long.yaml")
EARLY = SHORT.with_name("early.yaml")

LEAK = -20.0
"""How much louder the microphone hears the program than it is played [dB]."""

pytestmark = pytest.mark.skipif(bool(lacking()), reason=lacking())


@pytest.fixture
def server() -> Iterator[SoundServer]:
    with SoundServer() as running:
        yield running


def test_a_job_is_done_by_speaking_and_hearing_alone(server: SoundServer, tmp_path: Path) -> None:
    """The microphone hears the program too, which never answers itself."""
    job = tmp_path / "job"
    server.leak(LEAK)
    with (
        server.monitor(PLAYED) as played,
        server.monitor(SAID) as said,
        Renderer(tmp_path / "voice") as renderer,
        program(server, "run", SHORT, "--unit", KF_07, "--job", job) as running,
    ):
        person = Person(job, server, played, said, renderer)
        person.answer(running)
        assert running.wait(timeout=60) == 0
    heard = [one.body["heard"] for one in read(job) if one.kind == "heard"]
    assert len(heard) == len(person.exchanges) >= 4
    assert all(one["engine"] == "moonshine-tiny-en" for one in heard)
    assert len(played.sound().samples) > 5 * SAMPLE_RATE
    assert gloveside("verify", job).code == 0


def test_hold_cuts_the_program_off(server: SoundServer, tmp_path: Path) -> None:
    job = tmp_path / "job"
    server.leak(LEAK)
    with (
        server.monitor(PLAYED) as played,
        Renderer(tmp_path / "voice") as renderer,
        program(server, "run", LONG, "--job", job) as running,
    ):
        asked = _asked_first(Session(load_program(LONG), None, english()))
        prompt = wav.read(renderer.render(asked))
        hold = renderer.render("Hold.", Manner(VOICE, 140))
        _until(lambda: bool(played.loud_moments()), running)
        time.sleep(1.2)
        server.say(hold)
        _until(lambda: any(entry.kind == "heard" for entry in read(job)), running)
    heard = _only_heard(job)
    assert heard.accepted() == Command(Word.HOLD)
    quarter = len(prompt) // 4
    begin, end = (
        likeness(part, played.sound().samples) for part in (prompt[:quarter], prompt[-quarter:])
    )
    assert begin > HEARD
    assert end < begin  # the end of the prompt was not said; but all that is said is alike


def test_an_early_answer_is_heard_from_its_beginning(server: SoundServer, tmp_path: Path) -> None:
    """It begins over the last word of the question; without its beginning it were another one."""
    job = tmp_path / "job"
    server.leak(LEAK)
    with (
        server.monitor(PLAYED) as played,
        Renderer(tmp_path / "voice") as renderer,
        program(server, "run", EARLY, "--unit", KF_07, "--job", job) as running,
    ):
        asked = _asked_first(Session(load_program(EARLY), load_unit(KF_07), english()))
        seconds = len(wav.read(renderer.render(asked))) / SAMPLE_RATE
        words = "One through four closed, five through eight open."
        answer = renderer.render(words, Manner(VOICE, 140))
        _until(lambda: bool(played.loud_moments()), running)
        time.sleep(max(0.0, played.loud_moments()[0] + seconds - 0.6 - time.monotonic()))
        server.say(answer)
        _until(lambda: any(entry.kind == "heard" for entry in read(job)), running)
    heard = _only_heard(job)
    assert heard.accepted() == ContactStates.of(
        dict.fromkeys((1, 2, 3, 4), ContactState.CLOSED)
        | dict.fromkeys((5, 6, 7, 8), ContactState.OPEN)
    )


def _asked_first(session: Session) -> str:
    (question,) = (one for one in session.receive(Opened(NOW)) if isinstance(one, Say))
    return question.text


def _only_heard(job: Path) -> Recognition:
    (entry,) = (entry for entry in read(job) if entry.kind == "heard")
    event = event_from_json(entry.time, entry.body)
    assert isinstance(event, Heard)
    return event.recognition


def _until(reached: Callable[[], bool], running: subprocess.Popen[str]) -> None:
    until = time.monotonic() + 30
    while not reached():
        assert running.poll() is None, "the program has ended"
        assert time.monotonic() < until, "waited for too long"
        time.sleep(0.02)


def test_what_is_played_reaches_the_ear_whole(server: SoundServer, tmp_path: Path) -> None:
    """A loudspeaker that runs dry would leave gaps, and one that is cut off would leave the end."""
    with Renderer(tmp_path / "voice") as renderer:
        prompt = renderer.render("Never crank with the setting rod half engaged.")
    code = (
        "import sys; from pathlib import Path; from assistant.speech import wav; "
        "from assistant.speech.devices.loudspeaker import Loudspeaker; "
        "Loudspeaker().play(wav.load(Path(sys.argv[1])))"
    )
    with server.monitor(PLAYED) as played:
        server.run("-c", code, str(prompt))
        time.sleep(0.3)
    wanted = wav.read(prompt)
    assert likeness(wanted, played.sound().samples) > 2 * HEARD
    spoken, heard = (float(np.sum(np.square(one))) for one in (wanted, played.sound().samples))
    assert heard == pytest.approx(spoken, rel=0.05)
