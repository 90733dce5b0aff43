"""A web server in a thread of its own, on one address."""

from __future__ import annotations

import asyncio
import contextlib
import socket
import ssl
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn
from starlette.types import ASGIApp

__all__ = ["LOOPBACK", "BoardError", "Server", "Tls"]

LOOPBACK = "127.0.0.1"

MOST_CONNECTIONS = 64
"""More are refused: no more boards than that look at one job."""

_START_WITHIN = 10.0
_STOP_WITHIN = 3


class BoardError(Exception):
    """The board cannot be shown; the message says why, and the remedy."""


@dataclass(frozen=True, slots=True)
class Tls:
    """The files of a certificate and its key, PEM."""

    certificate: Path
    key: Path


class Server:
    """Listens from the beginning, and answers between `start` and `stop`.

    Args:
        host: the one address to listen on.
        port: its port; 0 for any that is free.
        tls: the certificate; without it only loopback is listened on.

    Attributes:
        origin: scheme, address and port under which it is reached.

    Raises:
        BoardError: the address cannot be listened on, or the certificate cannot be used.
    """

    def __init__(self, host: str, port: int, tls: Tls | None) -> None:
        if tls is None and host != LOOPBACK:
            raise BoardError(f"a board on {host} needs a certificate: give one with --board-tls")
        if tls is not None:
            _try(tls)
        self._tls = tls
        self._socket = _listen(host, port)
        scheme = "http" if tls is None else "https"
        self.origin = f"{scheme}://{_in_address(host)}:{self._socket.getsockname()[1]}"
        self._loop: asyncio.AbstractEventLoop | None = None
        self._server: uvicorn.Server | None = None
        self._thread: threading.Thread | None = None
        self._ready = threading.Event()

    def start(self, app: ASGIApp) -> None:
        """Answer from now on.

        Raises:
            BoardError: the server does not come up.
        """
        self._server = uvicorn.Server(
            uvicorn.Config(
                app,
                ssl_certfile=None if self._tls is None else self._tls.certificate,
                ssl_keyfile=None if self._tls is None else str(self._tls.key),
                lifespan="off",
                ws="none",
                log_config=None,
                access_log=False,  # an address holds the random word
                server_header=False,
                limit_concurrency=MOST_CONNECTIONS,
                timeout_graceful_shutdown=_STOP_WITHIN - 1,
            )
        )
        serve = self._server
        self._thread = threading.Thread(
            target=lambda: asyncio.run(self._run(serve)), name="board", daemon=True
        )
        self._thread.start()
        if not self._ready.wait(_START_WITHIN):
            raise BoardError("the board's server does not come up: go on without --board")

    def call(self, work: Callable[[], None]) -> None:
        """Have something done in the server's thread, and go on at once; without it, nothing."""
        if self._loop is not None:
            with contextlib.suppress(RuntimeError):  # its loop has ended
                self._loop.call_soon_threadsafe(work)

    def stop(self, last: Callable[[], None]) -> None:
        """Do one last thing in the server's thread, and end."""
        if self._thread is None:
            self._socket.close()
            return
        self.call(last)
        self.call(self._exit)
        self._thread.join(_STOP_WITHIN)

    def _exit(self) -> None:
        if self._server is not None:
            self._server.should_exit = True

    async def _run(self, server: uvicorn.Server) -> None:
        self._loop = asyncio.get_running_loop()
        self._ready.set()
        with self._socket:
            await server.serve(sockets=[self._socket])


def _try(tls: Tls) -> None:
    """Load a certificate once, so that a wrong one is told at once and in words."""
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(tls.certificate, tls.key)
    except (OSError, ssl.SSLError) as error:
        raise BoardError(
            f"{tls.certificate} and {tls.key}: cannot be used as certificate and key ({error}); "
            "give --board-tls two PEM files that belong together"
        ) from error


def _listen(host: str, port: int) -> socket.socket:
    if host in ("", "0.0.0.0", "::", "*"):
        raise BoardError(
            "a board is shown on one address: name that of this machine on the site's network"
        )
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        return socket.create_server((host, port), family=family)
    except OSError as error:
        raise BoardError(
            f"{host}, port {port or 'any'}: cannot be listened on ({error.strerror}); "
            "name an address of this machine and a port that is free"
        ) from error


def _in_address(host: str) -> str:
    return f"[{host}]" if ":" in host else host
