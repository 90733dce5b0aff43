"""Microphone and loudspeaker over a stand-in for PortAudio."""

from __future__ import annotations

import importlib
import threading
import time
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from assistant.speech import wav
from assistant.speech.devices import loudspeaker, microphone, sound_system
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone import reblocked
from assistant.speech.ears import SAMPLE_RATE
from assistant.speech.errors import DeviceError


class PortAudioError(Exception):
    """As in sounddevice."""


class FakeOutput:
    """An output stream that takes 10 ms of sound every millisecond."""

    def __init__(self, system: FakeSystem, samplerate: int, channels: int, **options: Any) -> None:
        self.callback, self.latency = options["callback"], options["latency"]
        self.block = np.zeros((samplerate // 100, channels), np.float32)
        self.system = system
        self.samplerate = samplerate
        self.aborted = False
        self.thread = threading.Thread(target=self.run, daemon=True)

    def run(self) -> None:
        while not self.system.stuck and not self.aborted:
            self.callback(self.block, len(self.block), None, None)
            self.system.heard.append(self.block.copy())
            time.sleep(0.001)

    def start(self) -> None:
        self.thread.start()

    def close(self) -> None:
        pass

    def abort(self) -> None:
        self.aborted = True
        self.system.aborts += 1


class FakeSystem:
    """The part of sounddevice that is used."""

    PortAudioError = PortAudioError

    def __init__(self, rate: int = 48_000, channels: int = 2) -> None:
        self.info = {
            "default_samplerate": float(rate),
            "max_output_channels": channels,
            "max_input_channels": channels,
        }
        self.heard: list[Any] = []
        self.aborts = 0
        self.stuck = self.absent = self.busy = self.mute = False
        self.closed = 0
        self.take: Any = None

    def query_devices(self, device: object, kind: str) -> dict[str, float]:
        if self.absent:
            raise PortAudioError("no device")
        return self.info

    def check_input_settings(self, *_: object, samplerate: int) -> None:
        if self.absent or samplerate != self.info["default_samplerate"]:
            raise PortAudioError("Invalid sample rate")

    def OutputStream(self, **options: Any) -> FakeOutput:  # noqa: N802 - sounddevice's name
        return FakeOutput(self, **options)

    def RawInputStream(self, **options: Any) -> SimpleNamespace:  # noqa: N802 - likewise
        if self.busy:
            raise PortAudioError("Device unavailable")
        self.take = options["callback"]
        return SimpleNamespace(start=self.start, close=self.close)

    def start(self) -> None:
        if self.mute:
            raise PortAudioError("Host error")

    def close(self) -> None:
        self.closed += 1


@pytest.fixture
def system(monkeypatch: pytest.MonkeyPatch) -> FakeSystem:
    made = FakeSystem()
    monkeypatch.setattr(loudspeaker, "sound_system", lambda: made)
    monkeypatch.setattr(microphone, "sound_system", lambda: made)
    return made


def tone(rate: int, seconds: float) -> wav.Sound:
    time_ = np.arange(round(rate * seconds)) / rate
    return wav.Sound((0.5 * np.sin(2 * np.pi * 440 * time_)).astype(np.float32), rate)


def test_without_portaudio_the_package_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(name: str) -> None:
        raise OSError("PortAudio library not found")  # what sounddevice raises

    monkeypatch.setattr(importlib, "import_module", refuse)
    with pytest.raises(DeviceError, match="libportaudio2"):
        sound_system.sound_system()


def test_a_sound_is_played_at_the_devices_rate_on_both_channels(system: FakeSystem) -> None:
    loudspeaker.Loudspeaker().play(tone(22_050, 0.5))
    heard = np.concatenate(system.heard)
    assert np.array_equal(heard[:, 0], heard[:, 1])
    expected = tone(48_000, 0.5).samples
    # The stream is silent before the sound: the sound begins where the two agree best.
    began = int(np.argmax(np.abs(heard[:, 0]) > 1e-6))
    heard = min(
        (heard[max(0, began + shift) :] for shift in range(-60, 61)),
        key=lambda part: float(np.abs(part[1_000:2_000, 0] - expected[1_000:2_000]).sum()),
    )
    assert np.abs(heard[1_000:23_000, 0] - expected[1_000:23_000]).max() < 1e-3
    assert not heard[24_000:].any()


def test_what_is_too_loud_is_clipped_at_full_scale(system: FakeSystem) -> None:
    speaker = loudspeaker.Loudspeaker()
    sound = tone(48_000, 0.2)
    speaker.play(wav.Sound(4.0 * sound.samples, sound.rate))
    assert np.abs(np.concatenate(system.heard)).max() == 1.0


def test_a_stop_cuts_the_sound_off(system: FakeSystem) -> None:
    speaker = loudspeaker.Loudspeaker()
    long = tone(48_000, 60.0)
    threading.Timer(0.2, speaker.stop).start()
    begun = time.monotonic()
    speaker.play(long)
    assert time.monotonic() - begun < 2.0
    time.sleep(0.05)  # the block that was under way
    assert not system.heard[-1].any()
    system.heard.clear()
    speaker.play(tone(48_000, 0.1))  # the next sound is whole again
    assert len(np.concatenate(system.heard)) >= 4_800


def test_a_sound_that_was_only_begun_is_heard_before_the_next(system: FakeSystem) -> None:
    speaker = loudspeaker.Loudspeaker()
    first, second = tone(48_000, 0.2), tone(48_000, 0.1)
    speaker.begin(first)
    speaker.play(second)
    heard = np.concatenate(system.heard)[:, 0]
    loud = np.flatnonzero(heard)
    assert len(loud) == pytest.approx(0.3 * 48_000, abs=100)
    assert loud[-1] - loud[0] == pytest.approx(0.3 * 48_000, abs=500)  # with no block between


def test_what_was_begun_is_not_heard_after_a_stop(system: FakeSystem) -> None:
    speaker = loudspeaker.Loudspeaker()
    speaker.begin(tone(48_000, 60.0))
    speaker.stop()
    speaker.play(tone(48_000, 0.1))
    assert len(np.flatnonzero(np.concatenate(system.heard)[:, 0])) < 0.2 * 48_000


def test_a_loudspeaker_that_stands_still_is_an_error(
    system: FakeSystem, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(loudspeaker, "_GRACE", 0.1)
    system.stuck = True
    with pytest.raises(DeviceError, match="stands still"):
        loudspeaker.Loudspeaker().play(tone(48_000, 0.1))
    assert system.aborts == 1


def test_absent_devices_are_named(system: FakeSystem) -> None:
    system.absent = True
    with pytest.raises(DeviceError, match="no loudspeaker"):
        loudspeaker.Loudspeaker()
    with pytest.raises(DeviceError, match="no usable microphone"):
        microphone.Microphone()


def test_a_microphone_that_somebody_else_holds_is_told(system: FakeSystem) -> None:
    system.busy = True
    with pytest.raises(DeviceError, match=r"no usable microphone \(Device unavailable\)"):
        microphone.Microphone()


def test_a_microphone_that_does_not_start_is_let_go(system: FakeSystem) -> None:
    system.mute = True
    with pytest.raises(DeviceError, match="no usable microphone"), microphone.Microphone():
        pass
    assert system.closed == 1


def test_a_sound_system_that_does_not_start_again_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse() -> None:
        raise PortAudioError("Host error")

    system = SimpleNamespace(
        PortAudioError=PortAudioError, _terminate=lambda: None, _initialize=refuse
    )
    monkeypatch.setattr(sound_system, "sound_system", lambda: system)
    with pytest.raises(DeviceError, match="start the sound server again"):
        sound_system.look_again()


def test_a_sound_system_that_did_not_start_once_is_started_at_the_next_look(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Counting:
        """PortAudio counts its starts, and refuses to end where there was none (its header)."""

        PortAudioError = PortAudioError
        starts, refusals = 1, 1

        def _terminate(self) -> None:
            if not self.starts:
                raise PortAudioError("PortAudio not initialized")
            self.starts -= 1

        def _initialize(self) -> None:
            if self.refusals:
                self.refusals -= 1
                raise PortAudioError("Error initializing PortAudio")
            self.starts += 1

    system = Counting()
    monkeypatch.setattr(sound_system, "sound_system", lambda: system)
    with pytest.raises(DeviceError, match="start the sound server again"):
        sound_system.look_again()
    for _ in range(2):
        sound_system.look_again()
        assert system.starts == 1  # started anew each time, and not once more on top


def test_what_a_device_that_failed_left_is_not_heard_when_it_works_again(
    system: FakeSystem, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(loudspeaker, "_GRACE", 0.1)
    speaker = loudspeaker.Loudspeaker()
    speaker.begin(tone(48_000, 60.0))
    system.stuck = True
    with pytest.raises(DeviceError, match="stands still"):
        speaker.play(tone(48_000, 0.1))
    system.stuck = False
    system.heard.clear()
    speaker.play(tone(48_000, 0.1))
    assert 4_700 < len(np.flatnonzero(np.concatenate(system.heard)[:, 0])) < 4_900


def test_a_sound_put_while_the_one_before_ends_is_not_passed_over() -> None:
    """Many sounds of one block each, put as soon as the one before was handed out."""
    tape = loudspeaker._Tape()
    out = np.zeros((10, 1), np.float32)
    over = threading.Event()
    heard: list[float] = []

    def device() -> None:
        while not over.is_set():
            tape.feed(out, len(out), None, None)
            heard.append(float(out[0, 0]))

    playing = threading.Thread(target=device)
    playing.start()
    for number in range(1, 2_001):
        tape.put(np.full(10, number, np.float32))
        assert tape.ended.wait(5.0)
    over.set()
    playing.join()
    assert [one for one in heard if one] == [float(number) for number in range(1, 2_001)]


def speak(system: FakeSystem, sound: wav.Sound, overflow: bool = False) -> None:
    """Let the device deliver a sound in blocks of 30 ms."""
    whole = np.round(sound.samples * 32768).astype("<i2")
    step = sound.rate * 30 // 1000
    for at in range(0, len(whole) - step + 1, step):
        data = whole[at : at + step].tobytes()
        system.take(data, step, None, SimpleNamespace(input_overflow=overflow))


def taken(blocks: Iterator[np.ndarray[Any, Any]], count: int) -> np.ndarray[Any, Any]:
    parts = [next(blocks) for _ in range(count)]
    assert {len(part) for part in parts} == {BLOCK}
    return np.concatenate(parts)


@pytest.mark.parametrize("rate", [16_000, 44_100, 48_000])
def test_blocks_come_at_our_rate(system: FakeSystem, rate: int) -> None:
    system.info["default_samplerate"] = float(rate)
    with microphone.Microphone() as mic:
        speak(system, tone(rate, 1.2))
        heard = taken(mic.blocks(), 33)
    expected = tone(SAMPLE_RATE, 1.2).samples[: len(heard)]
    assert heard.dtype == np.float32
    assert np.abs(heard - expected)[1_000:].max() < 2e-3


def test_the_next_reader_goes_on_where_the_last_one_stopped(system: FakeSystem) -> None:
    """The ears go on after who listened over a prompt: not a sample is lost in between."""
    system.info["default_samplerate"] = 48_000.0
    with microphone.Microphone() as mic:
        speak(system, tone(48_000, 1.2))
        heard = np.concatenate([taken(mic.blocks(), 11), taken(mic.blocks(), 11)])
    expected = tone(SAMPLE_RATE, 1.2).samples[: len(heard)]
    assert np.abs(heard - expected)[1_000:].max() < 2e-3


def test_a_microphone_that_falls_silent_is_unplugged(
    system: FakeSystem, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(microphone, "_DEAD_AFTER", 0.1)
    system.info["default_samplerate"] = 16_000.0
    with microphone.Microphone() as mic:
        speak(system, tone(16_000, 0.03))
        blocks = mic.blocks()
        next(blocks)
        with pytest.raises(DeviceError, match="no sound from the microphone"):
            next(blocks)


def test_lost_sound_is_counted(system: FakeSystem, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(microphone, "_MOST_WAITING", 5)
    system.info["default_samplerate"] = 16_000.0
    with microphone.Microphone() as mic:
        speak(system, tone(16_000, 0.06), overflow=True)
        assert mic.overflows == 2
        speak(system, tone(16_000, 0.15))  # two of five find no room
        assert mic.overflows == 4


def test_what_was_said_before_is_discarded(system: FakeSystem) -> None:
    system.info["default_samplerate"] = 16_000.0
    with microphone.Microphone() as mic:
        speak(system, tone(16_000, 0.3))
        mic.discard()
        speak(system, wav.Sound(np.full(BLOCK, 0.25, np.float32), 16_000))
        assert next(mic.blocks()).tolist() == [0.25] * BLOCK


def test_pieces_of_any_length_become_blocks() -> None:
    sound = np.arange(BLOCK * 5 + 7, dtype=np.float32)
    pieces = iter(np.split(sound, [1, 2, 700, 701, 1900]))
    blocks = list(reblocked(pieces, SAMPLE_RATE))
    assert np.array_equal(np.concatenate(blocks), sound[: BLOCK * 5])
