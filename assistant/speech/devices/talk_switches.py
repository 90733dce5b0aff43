"""Switches to talk by: an input device of Linux (pedal, headset button), or a key at the terminal.

Both are looked at when a block of sound has come, without waiting: no thread, no loop of their own.
"""

from __future__ import annotations

import contextlib
import os
import select
import struct
import termios
import tty
from collections.abc import Iterator
from pathlib import Path

from assistant.speech.errors import DeviceError

__all__ = ["Pedal", "TerminalKey", "open_pedal", "open_terminal_key"]

_EVENT = struct.Struct("llHHi")
"""``struct input_event`` (Linux, include/uapi/linux/input.h): time [s, us], type, code, value."""

_KEY_UP, _KEY_DOWN = (1, 0), (1, 1)
"""Type and value of the events of keys (EV_KEY in include/uapi/linux/input-event-codes.h)."""

_LOST = (0, 3)
"""Type and code of the event after which some were lost (EV_SYN, SYN_DROPPED)."""

_AT_ONCE = 64
"""Events or keys that are read at once."""


class Pedal:
    """Is on while any key of an input device is held down.

    Args:
        descriptor: the device, open for reading without waiting.
        name: what it is called in errors.
    """

    def __init__(self, descriptor: int, name: str) -> None:
        self._descriptor = descriptor
        self._name = name
        self._held: set[int] = set()
        self._unread = b""

    def is_on(self) -> bool:
        """Whether a key is down.

        Raises:
            DeviceError: the device is gone.
        """
        while data := self._read():
            self._unread += data
            whole = len(self._unread) // _EVENT.size * _EVENT.size
            for _, _, kind, code, value in _EVENT.iter_unpack(self._unread[:whole]):
                self._take(kind, code, value)
            self._unread = self._unread[whole:]
        return bool(self._held)

    def rest(self) -> None:
        """Nothing: it is on as long as it is held."""

    def _take(self, kind: int, code: int, value: int) -> None:
        if (kind, code) == _LOST:
            self._held.clear()  # what is held is not known any more, and then nothing counts
        elif (kind, value) == _KEY_DOWN:
            self._held.add(code)
        elif (kind, value) == _KEY_UP:
            self._held.discard(code)

    def _read(self) -> bytes:
        """What there is to be read now; nothing is b""."""
        try:
            data = os.read(self._descriptor, _AT_ONCE * _EVENT.size)
        except BlockingIOError:
            return b""
        except OSError as error:
            raise self._gone() from error
        if not data:
            raise self._gone()
        return data

    def _gone(self) -> DeviceError:
        return DeviceError(f"{self._name} is gone: plug it in again")


class TerminalKey:
    """Is on from the press of any key until listening begins anew: terminals tell of no release.

    Listening begins anew after each reply and after each prompt that is listened over.

    Args:
        descriptor: the terminal, which gives single keys (see `open_terminal_key`).
    """

    def __init__(self, descriptor: int) -> None:
        self._descriptor = descriptor
        self._on = False

    def is_on(self) -> bool:
        """Whether a key was pressed for this reply.

        Raises:
            DeviceError: the terminal is gone.
        """
        while select.select([self._descriptor], [], [], 0)[0]:
            if not self._read():
                raise DeviceError("the terminal is gone: continue the job in another")
            self._on = True
        return self._on

    def _read(self) -> bytes:
        try:
            return os.read(self._descriptor, _AT_ONCE)
        except OSError:
            return b""

    def rest(self) -> None:
        """Off; a press that was not looked at yet counts for the reply that comes."""
        self._on = False


@contextlib.contextmanager
def open_pedal(device: Path) -> Iterator[Pedal]:
    """A pedal or button by its device file (``/dev/input/…``).

    Raises:
        DeviceError: it is not there, or may not be read.
    """
    try:
        descriptor = os.open(device, os.O_RDONLY | os.O_NONBLOCK)
    except OSError as error:
        raise DeviceError(
            f"{device}: cannot be read ({error.strerror}); plug the pedal in, name its file in "
            "/dev/input/by-id, and let your user be in the group that owns it (on Debian: input)"
        ) from error
    try:
        yield Pedal(descriptor, str(device))
    finally:
        os.close(descriptor)


@contextlib.contextmanager
def open_terminal_key(descriptor: int) -> Iterator[TerminalKey]:
    """The keys of a terminal, single and unseen; afterwards it is as it was.

    Raises:
        DeviceError: it is no terminal.
    """
    try:
        before = termios.tcgetattr(descriptor)
    except termios.error as error:
        raise DeviceError(
            "a key to talk by needs a terminal: run this in one, or name a pedal's device file"
        ) from error
    tty.setcbreak(descriptor)
    try:
        yield TerminalKey(descriptor)
    finally:
        with contextlib.suppress(termios.error):  # the terminal may be gone
            termios.tcsetattr(descriptor, termios.TCSADRAIN, before)
