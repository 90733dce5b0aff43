"""Push-to-talk: by events of an input device in a pipe, and by the keys of a pseudo-terminal."""

from __future__ import annotations

import os
import pty
import struct
import termios
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.language.answers import AskYesNo, grammar
from assistant.language.english import english
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.devices.push_to_talk import TAIL, PushToTalk
from assistant.speech.devices.talk_switches import Pedal, open_pedal, open_terminal_key
from assistant.speech.ears import SAMPLE_RATE, Samples, Silence, Spoken
from assistant.speech.errors import DeviceError
from assistant.speech.fakes import FakeDetector, FakeRecogniser, FakeSoundSource

UP, DOWN, REPEATED = 0, 1, 2
PEDAL, OTHER = 0x130, 0x131  # BTN_SOUTH, BTN_EAST
LOST = (0, 3, 0)  # EV_SYN, SYN_DROPPED


def event(kind: int, code: int, value: int) -> bytes:
    """As the kernel writes it on a machine of 64 bits: 24 bytes."""
    return struct.pack("=qqHHi", 1_700_000_000, 5, kind, code, value)


def key(value: int, code: int = PEDAL) -> bytes:
    return event(1, code, value) + event(0, 0, 0)  # and EV_SYN, SYN_REPORT


class Foot:
    """A pedal in a pipe."""

    def __init__(self) -> None:
        reading, self._writing = os.pipe2(os.O_NONBLOCK)
        self.pedal = Pedal(reading, "the pedal")

    def send(self, data: bytes) -> None:
        os.write(self._writing, data)

    def unplug(self) -> None:
        os.close(self._writing)


def test_a_pedal_is_on_while_it_is_held() -> None:
    foot = Foot()
    seen = [foot.pedal.is_on()]
    for value in (DOWN, REPEATED, UP, DOWN):
        foot.send(key(value))
        foot.pedal.rest()
        seen.append(foot.pedal.is_on())
    assert seen == [False, True, True, False, True]


def test_a_press_and_a_release_between_two_looks_are_both_seen() -> None:
    foot = Foot()
    foot.send(key(DOWN) + key(UP))
    assert not foot.pedal.is_on()


def test_two_buttons_are_one_switch() -> None:
    foot = Foot()
    foot.send(key(DOWN) + key(DOWN, OTHER) + key(UP))
    assert foot.pedal.is_on()
    foot.send(key(UP, OTHER))
    assert not foot.pedal.is_on()


def test_where_events_were_lost_nothing_counts() -> None:
    foot = Foot()
    foot.send(key(DOWN) + event(*LOST))
    assert not foot.pedal.is_on()


def test_an_event_may_come_in_two_pieces() -> None:
    foot = Foot()
    data = key(DOWN)
    foot.send(data[:10])
    assert not foot.pedal.is_on()
    foot.send(data[10:])
    assert foot.pedal.is_on()


def test_a_pedal_that_is_unplugged_is_an_error() -> None:
    foot = Foot()
    foot.unplug()
    with pytest.raises(DeviceError, match="the pedal is gone: plug it in"):
        foot.pedal.is_on()


def test_a_pedal_that_is_not_there_is_named_with_the_remedy(tmp_path: Path) -> None:
    with pytest.raises(DeviceError, match=r"no-pedal: .*No such file.*/dev/input/by-id"):
        open_pedal(tmp_path / "no-pedal").__enter__()


def test_a_key_is_on_until_the_reply_was_taken_and_the_terminal_is_as_before() -> None:
    person, terminal = pty.openpty()
    before = termios.tcgetattr(terminal)
    with open_terminal_key(terminal) as switch:
        assert not switch.is_on()
        os.write(person, b" ")
        assert switch.is_on()
        assert switch.is_on()
        switch.rest()
        assert not switch.is_on()
        os.write(person, b"x")
        switch.rest()  # a press that was not looked at is for the reply to come
        assert switch.is_on()
    assert termios.tcgetattr(terminal) == before


def test_a_pipe_is_no_terminal() -> None:
    reading, _ = os.pipe()
    with pytest.raises(DeviceError, match="needs a terminal"):
        open_terminal_key(reading).__enter__()


class Worked:
    """A switch that is on in some blocks."""

    def __init__(self, *on: range) -> None:
        self.on, self.at = on, -1

    def is_on(self) -> bool:
        self.at += 1
        return any(self.at in one for one in self.on)

    def rest(self) -> None:
        """Nothing."""


def speech(seconds: float) -> Samples:
    return np.full(round(seconds * SAMPLE_RATE), 0.3, np.float32)


def blocks(*parts: Samples) -> Iterator[Samples]:
    sound = np.concatenate([*parts, np.zeros(3 * SAMPLE_RATE, np.float32)])
    return (sound[at : at + BLOCK] for at in range(0, len(sound) - BLOCK + 1, BLOCK))


def test_only_what_is_said_while_it_is_on_is_heard() -> None:
    """Somebody speaks all the time, and it is on for a second."""
    source = PushToTalk(FakeSoundSource(blocks(speech(4.0))), Worked(range(33, 66)))
    reader = FakeRecogniser(["yes"])
    reply = MicrophoneEars(source, FakeDetector(), reader).listen(grammar(AskYesNo(), english()), 3)
    assert isinstance(reply, Spoken)
    assert reply.samples is not None
    loud = np.count_nonzero(reply.samples)
    assert loud == (33 + TAIL - 1) * BLOCK


def test_without_a_press_it_is_silent_and_the_program_may_ask_again() -> None:
    source = PushToTalk(FakeSoundSource(blocks(speech(4.0))), Worked())
    ears = MicrophoneEars(source, FakeDetector(), FakeRecogniser([]))
    assert ears.listen(grammar(AskYesNo(), english()), 3) == Silence()


def test_lost_sound_is_still_counted() -> None:
    microphone = FakeSoundSource([])
    microphone.overflows = 3
    source = PushToTalk(microphone, Worked())
    source.discard()
    assert (source.overflows, microphone.discards) == (3, 1)
