"""The loudspeaker: a stream of our own, so that a prompt can be cut off at once."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assistant.speech import wav
from assistant.speech.devices.sound_system import sound_system
from assistant.speech.errors import DeviceError

__all__ = ["Loudspeaker"]

_GRACE = 3.0
"""How long the device may ask for no samples before it is held to be dead [s]; a sound server can
take seconds to start a stream."""


_LATENCY = 0.1
"""Length of the device's buffer that is asked for [s]; shorter ones ran dry over a sound server."""


class Loudspeaker:
    """Plays one sound at a time through an output device.

    One stream is opened at the first sound and stays open, silent between sounds: a sound server
    can take seconds to start a stream. Its buffer is never drained, since that can hang over a
    sound server: a sound is over when its last sample was handed out and the buffer has had time
    to be played.

    Args:
        device: PortAudio's number or name of the device; None for the system's default.

    Raises:
        DeviceError: there is no PortAudio, or no such device.
    """

    def __init__(self, device: int | str | None = None) -> None:
        self._system = sound_system()
        self._device = device
        self._described()
        self._tape = _Tape()
        self._stream: Any = None

    def play(self, sound: wav.Sound) -> None:
        """Play the sound; return when its last sample has been heard, or at `stop`.

        Raises:
            DeviceError: the device cannot be opened, or stands still.
        """
        with self._told():
            stream = self._put(sound)
            while not self._tape.ended.wait(_GRACE):
                if not self._tape.wanted:
                    self.close()
                    raise DeviceError(
                        "the loudspeaker stands still: unplug it and plug it in again, choose "
                        "another, or turn the voice off"
                    )
                self._tape.wanted = False
            self._tape.stopped.wait(float(stream.latency))

    def play_through(self, sound: wav.Sound) -> None:
        """The same as `play`: nothing is listened for here."""
        self.play(sound)

    def begin(self, sound: wav.Sound) -> None:
        """Begin to play the sound and return at once; what is played next comes after it.

        Raises:
            DeviceError: the device cannot be opened.
        """
        with self._told():
            self._put(sound)

    def stop(self) -> None:
        """Cut the sound off; may be called from another thread."""
        self._tape.stopped.set()

    def close(self) -> None:
        """Let go of the device and of what it has not played; the next `play` opens it again."""
        stream, self._stream = self._stream, None
        self._tape = _Tape()
        if stream is not None:
            with contextlib.suppress(self._system.PortAudioError):  # it may be gone already
                stream.abort()
                stream.close()

    @contextlib.contextmanager
    def _told(self) -> Iterator[None]:
        """Let go of a device that fails, and tell it in the user's words."""
        try:
            yield
        except self._system.PortAudioError as error:
            self.close()
            raise DeviceError(
                f"the loudspeaker fails ({error}): plug it in, choose another, or turn it off"
            ) from error

    def _put(self, sound: wav.Sound) -> Any:
        """Hand the sound to the stream; answer the stream."""
        stream = self._running()
        samples = wav.resample(sound.samples, sound.rate, int(stream.samplerate))
        self._tape.put(np.clip(samples, -1.0, 1.0))
        return stream

    def _running(self) -> Any:
        """The stream, started if it is not."""
        if self._stream is None:
            info = self._described()
            self._stream = self._system.OutputStream(
                samplerate=int(info["default_samplerate"]),
                channels=min(2, info["max_output_channels"]),
                dtype="float32",
                device=self._device,
                latency=_LATENCY,
                callback=self._tape.feed,
            )
            self._stream.start()
        return self._stream

    def _described(self) -> Any:
        """What PortAudio says about the device."""
        try:
            return self._system.query_devices(self._device, "output")
        except (self._system.PortAudioError, ValueError) as error:
            raise DeviceError(
                f"no loudspeaker ({error}): plug one in, choose another, or turn the voice off"
            ) from error


class _Tape:
    """Hands out the samples of one sound block by block, and silence after it.

    Attributes:
        ended: set when the last sample was handed out.
        stopped: set when the rest is not to be heard.
        wanted: whether the device has asked for samples since this was last set to False.
    """

    def __init__(self) -> None:
        self._samples = np.zeros(0, np.float32)
        self._at = 0
        # Else the callback could find the old sound over and end the new one unheard.
        self._exchange = threading.Lock()
        self.wanted = False
        self.ended = threading.Event()
        self.stopped = threading.Event()

    def put(self, samples: NDArray[np.float32]) -> None:
        """Hand out these samples, mono, after what is left of those before."""
        with self._exchange:
            left = self._samples[len(self._samples) if self.stopped.is_set() else self._at :]
            self._samples, self._at = np.concatenate([left, samples]), 0
            self.stopped.clear()
            self.wanted = False
            self.ended.clear()

    def feed(self, out: NDArray[np.float32], frames: int, _time: object, _status: object) -> None:
        """The stream's callback."""
        out.fill(0)
        with self._exchange:
            self.wanted = True
            if self.ended.is_set():
                return
            if self.stopped.is_set():
                self._at = len(self._samples)
            part = self._samples[self._at : self._at + frames]
            out[: len(part)] = part[:, None]
            self._at += frames
            if self._at >= len(self._samples):
                self.ended.set()
