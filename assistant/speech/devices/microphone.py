"""The microphone: blocks of 30 ms at `SAMPLE_RATE`, as they come.

PortAudio's callback runs on a thread of its own where errors vanish, so it only puts bytes into a
queue; all else happens where the blocks are taken out.
"""

from __future__ import annotations

import contextlib
import itertools
import queue
from collections.abc import Iterator
from types import TracebackType
from typing import Any, Protocol, Self

import numpy as np
import soxr

from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.sound_system import sound_system
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import DeviceError

__all__ = ["Microphone", "SoundSource", "reblocked"]

_DEAD_AFTER = 1.0
"""Without a block for so long, the microphone is held to be unplugged [s]."""

_MOST_WAITING = 2_000
"""Blocks kept for a reader who is busy (one minute); later ones are lost and counted."""


class SoundSource(Protocol):
    """Gives blocks of sound as they happen: the microphone, or a stand-in for it."""

    @property
    def overflows(self) -> int:
        """How often sound was lost because nobody took it in time."""

    def discard(self) -> None:
        """Forget what was heard up to now."""

    def blocks(self) -> Iterator[Samples]:
        """Blocks of `BLOCK` samples, waiting for each."""


class Microphone:
    """An input device, open between ``with`` and its end.

    Args:
        device: PortAudio's number or name of the device; None for the system's default.

    Attributes:
        overflows: how often sound was lost because nobody took it in time.

    Raises:
        DeviceError: there is no PortAudio, or no such device.
    """

    def __init__(self, device: int | str | None = None) -> None:
        self.overflows = 0
        self._system = sound_system()
        self._waiting: queue.Queue[bytes] = queue.Queue(_MOST_WAITING)
        self._rate = self._usable_rate(device)
        try:
            self._stream: Any = self._system.RawInputStream(
                samplerate=self._rate,
                blocksize=self._rate * 30 // 1000,
                channels=1,
                dtype="int16",
                device=device,
                callback=self._take,
            )
        except (self._system.PortAudioError, ValueError) as error:
            raise _unusable(error) from error
        self._blocks = self._new_blocks()

    def __enter__(self) -> Self:
        try:
            self._stream.start()
        except self._system.PortAudioError as error:
            self._close()
            raise _unusable(error) from error
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._close()

    def _close(self) -> None:
        with contextlib.suppress(self._system.PortAudioError):  # it may be gone already
            self._stream.close()

    def discard(self) -> None:
        """Forget what was heard up to now."""
        while not self._waiting.empty():
            self._waiting.get_nowait()
        self._blocks = self._new_blocks()

    def blocks(self) -> Iterator[Samples]:
        """Blocks of `BLOCK` float32 samples, waiting for each.

        They go on where those before were left, unless all was discarded.

        Raises:
            DeviceError: no sound for a second.
        """
        return itertools.chain(self._blocks)  # which does not close them

    def _new_blocks(self) -> Iterator[Samples]:
        return reblocked(self._arriving(), self._rate)

    def _arriving(self) -> Iterator[Samples]:
        """What the device delivers, at its own rate."""
        while True:
            try:
                data = self._waiting.get(timeout=_DEAD_AFTER)
            except queue.Empty:
                raise DeviceError(
                    f"no sound from the microphone for {_DEAD_AFTER:.0f} s: plug it in again and "
                    "continue the job, choose another, or type the replies"
                ) from None
            yield np.frombuffer(data, np.int16).astype(np.float32) / np.float32(32768)

    def _take(self, data: Any, frames: int, time: object, status: Any) -> None:
        """PortAudio's callback."""
        self.overflows += bool(status.input_overflow)
        try:
            self._waiting.put_nowait(bytes(data))
        except queue.Full:
            self.overflows += 1

    def _usable_rate(self, device: int | str | None) -> int:
        """`SAMPLE_RATE` where the device can do it, else the device's own rate."""
        try:
            self._system.check_input_settings(device, 1, "int16", samplerate=SAMPLE_RATE)
        except (self._system.PortAudioError, ValueError):
            return self._own_rate(device)
        return SAMPLE_RATE

    def _own_rate(self, device: int | str | None) -> int:
        try:
            rate = int(self._system.query_devices(device, "input")["default_samplerate"])
            self._system.check_input_settings(device, 1, "int16", samplerate=rate)
        except (self._system.PortAudioError, ValueError) as error:
            raise _unusable(error) from error
        return rate


def reblocked(pieces: Iterator[Samples], rate: int) -> Iterator[Samples]:
    """Pieces of any length at `rate` [Hz] as blocks of `BLOCK` samples at `SAMPLE_RATE`."""
    changer = None if rate == SAMPLE_RATE else soxr.ResampleStream(rate, SAMPLE_RATE, 1)
    held = np.zeros(0, np.float32)
    for piece in pieces:
        held = np.concatenate([held, piece if changer is None else changer.resample_chunk(piece)])
        while len(held) >= BLOCK:
            yield held[:BLOCK]
            held = held[BLOCK:]


def _unusable(error: Exception) -> DeviceError:
    return DeviceError(
        f"no usable microphone ({error}): plug one in, choose another, or type the replies"
    )
