"""A device, or something else, that fails in a job: what is told and written, and what goes on."""

from __future__ import annotations

import contextlib
import errno
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest

import assistant.journal.store as store_module
from assistant.cli import attend as attending
from assistant.cli.attend import attend
from assistant.cli.complaint import Complaint
from assistant.cli.conduct import WORDS_FOR_THE_ORDER, Conductor
from assistant.cli.speaker import speaker_with
from assistant.journal.entry import opening
from assistant.journal.root_words import words_of
from assistant.journal.store import Journal, JournalError
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.session.core import Session
from assistant.session.wording import JOB_STOPPED, STANDS_STILL, STOPPED_ENERGISED
from assistant.speech import wav
from assistant.speech.ears import Ears, Ended, Reply, Silence, Spoken
from assistant.speech.errors import DeviceError, ModelError, VoiceError
from assistant.speech.fakes import FakeEars, FakePlayer, FakeVoice
from assistant.speech.pressed import PRESSED
from assistant.speech.typed import understood
from assistant.speech.voice.rendering import Manner, Renderer
from assistant.speech.voice.voices import SpokenVoice, Voice
from tests.session.job import NOW, kf, two_ends
from tests.session.test_commands import REPLIES


class FailingEars:
    """Ears of which some replies are failures."""

    def __init__(self, *replies: Reply | Exception) -> None:
        self.replies = list(replies)

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        reply = self.replies.pop(0) if self.replies else Ended()
        if isinstance(reply, Exception):
            raise reply
        return reply


class Devices:
    """Opens the same ears and voice again and again; some openings fail.

    Args:
        folder: of the job.
        ears: where replies come from.
        missing: the openings, from 1, at which there is no device.
        failing: what is raised at openings that fail otherwise.
    """

    def __init__(
        self,
        folder: Path,
        ears: Ears,
        *missing: int,
        failing: Mapping[int, Exception] = MappingProxyType({}),
    ) -> None:
        self.ears, self.missing, self.failing = ears, missing, failing
        self.voice = FakeVoice()
        self.spoken: Voice = self.voice
        self.journal = Journal.create(folder)
        self.session = Session(two_ends(), kf("07"), english())
        self.openings = 0

    @contextlib.contextmanager
    def opened(self) -> Iterator[Conductor]:
        self.openings += 1
        if self.openings in self.missing:
            raise DeviceError("no usable microphone")
        if self.openings in self.failing:
            raise self.failing[self.openings]
        speaker = speaker_with(self.spoken)
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


@pytest.mark.parametrize(
    "error",
    [
        ModelError("silero-vad: cannot be loaded"),
        VoiceError("the sentence of the wake word cannot be kept"),
        Complaint("devices.yaml: cannot be read; delete it and choose again"),
    ],
)
def test_what_else_keeps_the_devices_away_is_shown_once_and_waited_for(
    tmp_path: Path, error: Exception
) -> None:
    failing = dict.fromkeys((2, 3, 4), error)
    devices = Devices(tmp_path, FailingEars(UNPLUGGED, Silence()), failing=failing)
    shown: list[str] = []
    attend(devices.opened, OPENED, shown.append)
    assert devices.kinds() == ["opened", "returned", "silent"]
    assert devices.journal.entries[1].body["lost"] == str(UNPLUGGED)
    assert shown == [str(UNPLUGGED), str(error)]
    assert JOB_STOPPED not in devices.voice.said


@pytest.mark.parametrize("number", [2, 3])
def test_what_nobody_expected_then_ends_the_job_by_the_voice_that_was_there(
    tmp_path: Path, number: int
) -> None:
    failing = {number: ZeroDivisionError("unexpected")}
    devices = Devices(tmp_path, FailingEars(UNPLUGGED, UNPLUGGED), failing=failing)
    with pytest.raises(ZeroDivisionError):
        attend(devices.opened, OPENED, print)
    assert devices.voice.said[-1] == JOB_STOPPED


@pytest.mark.parametrize("error", [ModelError("damaged"), Complaint("spoiled")])
def test_before_there_is_a_job_it_is_told_and_not_waited_for(
    tmp_path: Path, error: Exception
) -> None:
    devices = Devices(tmp_path, FailingEars(), failing={1: error})
    with pytest.raises(type(error)):
        attend(devices.opened, OPENED, print)
    assert (devices.openings, devices.kinds()) == (1, [])


def test_it_can_fail_again_and_again(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(*[UNPLUGGED] * 50, Silence()))
    attend(devices.opened, OPENED, print)
    assert devices.kinds() == ["opened", *["returned"] * 50, "silent"]


HALF = "\ud800"
"""Half a surrogate pair: no character by itself, so UTF-8 cannot write it (RFC 3629, section 3)."""


@pytest.mark.parametrize("engine", ["typed", PRESSED, "a recogniser"])
def test_no_word_that_cannot_be_written_ends_a_job(tmp_path: Path, engine: str) -> None:
    class Words(FailingEars):
        def __init__(self, *texts: str) -> None:
            super().__init__()
            self.texts = list(texts)

        def listen(self, grammar: Grammar, patience: float) -> Reply:
            if not self.texts:
                return Ended()
            return Spoken(understood(self.texts.pop(0), grammar, engine), None)

    devices = Devices(tmp_path, Words(HALF, f"yes {HALF}", "take a note", f"{HALF} is loose"))
    attend(devices.opened, OPENED, print)
    texts = [entry.body["heard"]["text"] for entry in devices.journal.entries[1:]]
    assert texts == ["?", "yes ?", "take a note", "? is loose"]
    assert JOB_STOPPED not in devices.voice.said


def test_without_a_device_at_first_there_is_no_job(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(), 1)
    with pytest.raises(DeviceError):
        attend(devices.opened, OPENED, print)
    assert devices.kinds() == []


# The end of a job


class FailingAtTheEnd(FakeVoice):
    """A voice whose device fails so often while the words at the end are said."""

    def __init__(self, failures: int) -> None:
        super().__init__()
        self.failures = failures

    def say(self, text: str) -> None:
        if text.startswith(WORDS_FOR_THE_ORDER) and self.failures:
            self.failures -= 1
            raise DeviceError("the loudspeaker was unplugged")
        super().say(text)


@pytest.mark.parametrize("failures", [1, 3])
def test_a_finished_job_ends_with_the_words_for_its_last_line_whatever_fails_meanwhile(
    tmp_path: Path, failures: int
) -> None:
    devices = Devices(tmp_path, FakeEars(REPLIES), 2)
    devices.voice = devices.spoken = FailingAtTheEnd(failures)
    shown: list[str] = []
    attend(devices.opened, OPENED, shown.append)
    last = devices.journal.entries[-1]
    assert last.is_end
    words = ", ".join(words_of(devices.journal.root))
    assert devices.voice.said[-2:] == [*last.body["said"], f"{WORDS_FOR_THE_ORDER} {words}."]
    assert shown == ["the loudspeaker was unplugged"] * failures
    assert STANDS_STILL not in devices.voice.said


# What ends the job


def fill_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """From now on nothing can be written to a journal."""

    def full(_handle: int, _data: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(store_module, "write_all", full)


class EarsWhileTheDiskFills:
    """Ears after whose first reply nothing can be written any more."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.monkeypatch = monkeypatch

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        fill_the_disk(self.monkeypatch)
        return Silence()


def test_a_journal_that_cannot_be_written_ends_the_job_with_a_word_to_the_technician(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    devices = Devices(tmp_path, FailingEars())
    devices.ears = EarsWhileTheDiskFills(monkeypatch)
    with pytest.raises(JournalError, match="No space left on device"):
        attend(devices.opened, OPENED, print)
    assert devices.voice.said[-1] == JOB_STOPPED
    assert devices.kinds() == ["opened"]


@pytest.mark.parametrize("error", [VoiceError("it hung"), ZeroDivisionError("unexpected")])
def test_so_does_whatever_else_fails(tmp_path: Path, error: Exception) -> None:
    devices = Devices(tmp_path, FailingEars(Silence(), error))
    with pytest.raises(type(error)):
        attend(devices.opened, OPENED, print)
    assert devices.voice.said[-1] == JOB_STOPPED


def test_what_fails_after_a_headset_came_back_does_so_too(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(UNPLUGGED, VoiceError("it hung")))
    with pytest.raises(VoiceError):
        attend(devices.opened, OPENED, print)
    assert devices.voice.said[-1] == JOB_STOPPED


def test_with_the_supply_on_the_motor_is_stopped_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    devices = Devices(tmp_path, FailingEars(VoiceError("it hung")))
    monkeypatch.setattr(Session, "supply_may_be_on", property(lambda _session: True))
    with pytest.raises(VoiceError):
        attend(devices.opened, OPENED, print)
    assert devices.voice.said[-2:] == [STOPPED_ENERGISED, JOB_STOPPED]


class BreakingVoice(FakeVoice):
    """A voice that breaks at its last words."""

    def say(self, text: str) -> None:
        super().say(text)
        if text == JOB_STOPPED:
            raise RuntimeError("broken")


def test_a_voice_that_fails_then_does_not_hide_what_failed_first(tmp_path: Path) -> None:
    devices = Devices(tmp_path, FailingEars(VoiceError("first")))
    devices.voice = devices.spoken = BreakingVoice()
    with pytest.raises(VoiceError, match="first"):
        attend(devices.opened, OPENED, print)
    assert devices.voice.said[-1] == JOB_STOPPED


def test_the_last_words_need_no_disk(tmp_path: Path) -> None:
    pytest.importorskip("espeakng_loader", reason="the voice needs the package espeakng-loader")
    player, speech = FakePlayer(), tmp_path / "speech"
    with Renderer(speech) as renderer:
        voice = SpokenVoice(renderer, player)
        expected = wav.load(renderer.render(JOB_STOPPED))

        class EarsThatSpoil(FailingEars):
            def listen(self, grammar: Grammar, patience: float) -> Reply:
                voice.manner = Manner().slower()  # nothing is rendered in it yet
                speech.rename(tmp_path / "gone")
                speech.write_bytes(b"")
                return super().listen(grammar, patience)

        devices = Devices(tmp_path / "job", EarsThatSpoil(Silence()))
        devices.spoken = voice
        with pytest.raises(VoiceError, match="rendered speech cannot be kept there"):
            attend(devices.opened, OPENED, print)
    (last,) = player.played_through
    assert np.array_equal(last.samples, expected.samples)
