"""A network that can break: what goes through it is cut off at a word, and let through again."""

from __future__ import annotations

import contextlib
import socket
import threading
from types import TracebackType
from typing import Self

__all__ = ["ADDRESS", "Relay"]

ADDRESS = "127.0.0.2"
"""Where it listens, at the port of the server behind it."""


class Relay:
    """Passes connections on to a server on loopback.

    Args:
        port: of the server.
    """

    def __init__(self, port: int) -> None:
        self._port = port
        self._whole = True
        self._open: list[socket.socket] = []
        self._listener = socket.create_server((ADDRESS, port))

    def __enter__(self) -> Self:
        threading.Thread(target=self._accept, daemon=True).start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.cut()
        self._listener.close()

    def cut(self) -> None:
        """Break every connection, and let no new one through."""
        self._whole = False
        while self._open:
            _end(self._open.pop())

    def mend(self) -> None:
        """Let new connections through again."""
        self._whole = True

    def _accept(self) -> None:
        with contextlib.suppress(OSError):  # the listener was closed
            while True:
                near, _ = self._listener.accept()
                if not self._whole:
                    near.close()
                    continue
                far = socket.create_connection(("127.0.0.1", self._port))
                self._open += [near, far]
                for one, other in ((near, far), (far, near)):
                    threading.Thread(target=_pass_on, args=(one, other), daemon=True).start()


def _pass_on(one: socket.socket, other: socket.socket) -> None:
    with contextlib.suppress(OSError):  # it was cut
        while part := one.recv(65_536):
            other.sendall(part)
    _end(other)


def _end(connection: socket.socket) -> None:
    with contextlib.suppress(OSError):  # it has ended already
        connection.shutdown(socket.SHUT_RDWR)
    connection.close()
