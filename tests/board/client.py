"""A browser that does what it is told: requests with any headers, and updates as they come."""

from __future__ import annotations

import contextlib
import http.client
import ssl
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import urlsplit

from assistant.board.board import Board

TIMEOUT = 10.0

Headers = dict[str, str]
NONE: Headers = {}


@dataclass(frozen=True)
class Answer:
    status: int
    headers: dict[str, str]
    text: str


def connect(board: Board, trusted: ssl.SSLContext | None = None) -> http.client.HTTPConnection:
    place = urlsplit(board.address)
    assert place.hostname
    if trusted is not None:
        return http.client.HTTPSConnection(
            place.hostname, place.port, timeout=TIMEOUT, context=trusted
        )
    return http.client.HTTPConnection(place.hostname, place.port, timeout=TIMEOUT)


def ask(
    board: Board,
    path: str = "",
    method: str = "GET",
    body: str | None = None,
    headers: Headers = NONE,
    *,
    trusted: ssl.SSLContext | None = None,
) -> Answer:
    """One request; `path` is within the board unless it begins with a slash."""
    inside = urlsplit(board.address).path
    connection = connect(board, trusted)
    with contextlib.closing(connection):
        connection.request(method, path if path.startswith("/") else inside + path, body, headers)
        response = connection.getresponse()
        told = {name.lower(): text for name, text in response.getheaders()}
        return Answer(response.status, told, response.read().decode())


@contextlib.contextmanager
def updates(
    board: Board, after: str = "", headers: Headers = NONE
) -> Iterator[Iterator[dict[str, str]]]:
    """The stream of updates (WHATWG HTML, server-sent events), each as its fields."""
    connection = connect(board)
    with contextlib.closing(connection):
        connection.request("GET", f"{urlsplit(board.address).path}updates{after}", None, headers)
        response = connection.getresponse()
        assert response.status == 200
        yield _events(response)


def _events(response: http.client.HTTPResponse) -> Iterator[dict[str, str]]:
    fields: dict[str, str] = {}
    while line := response.readline().decode():
        name, colon, text = line.rstrip("\n").partition(": ")
        if colon:
            fields[name] = f"{fields[name]}\n{text}" if name in fields else text
        else:
            yield fields
            fields = {}
