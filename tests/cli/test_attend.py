"""A device that fails in a job: what is told, what is written, and that it goes on."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.cli import attend as attending
from assistant.cli.attend import attend
from assistant.cli.conduct import Conductor
from assistant.cli.speaker import speaker_with
from assistant.journal.entry import opening
from assistant.journal.store import Journal
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.session.core import Session
from assistant.session.wording import STANDS_STILL
from assistant.speech.ears import Ended, Reply, Silence
from assistant.speech.errors import DeviceError
from assistant.speech.fakes import FakeVoice
from tests.session.job import NOW, kf, two_ends


class FailingEars:
    """Ears of which some replies are failures."""

    def __init__(self, *replies: Reply | DeviceError) -> None:
        self.replies = list(replies)

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        reply = self.replies.pop(0) if self.replies else Ended()
        if isinstance(reply, DeviceError):
            raise reply
        return reply


class Devices:
    """Opens the same ears and voice again and again; some openings fail."""

    def __init__(self, folder: Path, ears: FailingEars, *missing: int) -> None:
        self.ears, self.missing = ears, missing
        self.voice = FakeVoice()
        self.journal = Journal.create(folder)
        self.session = Session(two_ends(), kf("07"), english())
        self.openings = 0

    @contextlib.contextmanager
    def opened(self) -> Iterator[Conductor]:
        self.openings += 1
        if self.openings in self.missing:
            raise DeviceError("no usable microphone")
        speaker = speaker_with(self.voice)
        yield Conductor(
            self.session, self.journal, self.journal.file.parent, self.ears, speaker, lambda: NOW
        )

    def kinds(self) -> list[str]:
        return [entry.kind for entry in self.journal.entries]


OPENED = opening({}, {}, {}, {}, "t")
UNPLUGGED = DeviceError("no sound from the microphone for 1 s")


@pytest.fixture(autouse=True)
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(attending, "BETWEEN_LOOKS", 0.0)
    monkeypatch.setattr(attending, "look_again", lambda: None)


def test_a_job_stands_still_and_goes_on_where_it_was(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(Silence(), UNPLUGGED, Silence()))
    shown: list[str] = []
    attend(devices.opened, OPENED, shown.append)
    assert devices.kinds() == ["opened", "silent", "returned", "silent"]
    assert devices.journal.entries[2].body["lost"] == str(UNPLUGGED)
    assert STANDS_STILL in devices.voice.said
    assert shown == [str(UNPLUGGED)]


def test_it_waits_until_the_device_is_there_again(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(UNPLUGGED), 2, 3, 4)
    attend(devices.opened, OPENED, print)
    assert devices.openings == 5
    assert devices.kinds() == ["opened", "returned"]


def test_it_can_fail_again_and_again(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(*[UNPLUGGED] * 50, Silence()))
    attend(devices.opened, OPENED, print)
    assert devices.kinds() == ["opened", *["returned"] * 50, "silent"]


def test_without_a_device_at_first_there_is_no_job(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(), 1)
    with pytest.raises(DeviceError):
        attend(devices.opened, OPENED, print)
    assert devices.kinds() == []
