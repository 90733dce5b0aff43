"""What the board answers over HTTP: the page, its script and style, the updates, and presses."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator, Callable, Collection
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from assistant.board.feed import Feed, Update
from assistant.board.follow import HOLD, KEYS
from assistant.board.gate import HEADERS, Gate
from assistant.board.page import script, style
from assistant.speech.pressed import Press, Presses

__all__ = ["board_app"]

_REFUSED = "Refused. Open the board by the whole address that the program printed.\n"

_LONGEST_PRESS = 1_000
"""Bytes of a press that are read."""


def board_app(
    gate: Gate,
    feed: Feed,
    page: Callable[[], str],
    keys: Callable[[], Collection[str]],
    presses: Presses | None = None,
) -> ASGIApp:
    """The application of one board.

    Args:
        gate: who may come in.
        feed: the updates.
        page: gives the whole page with the newest update.
        keys: gives the answers that may be pressed on the newest update.
        presses: where pressed answers go; without it none is taken.
    """

    def is_key(pressed: Press) -> bool:
        """Whether it may be one; of an older update only `Presses` can tell, which refuses it."""
        shown = keys() if pressed.number == feed.newest.number else KEYS
        return pressed.word == HOLD or pressed.word in shown

    async def show(_request: Request) -> Response:
        return HTMLResponse(page())

    async def updates(request: Request) -> Response:
        return StreamingResponse(_stream(feed, _last_seen(request)), media_type="text/event-stream")

    async def press(request: Request) -> Response:
        assert presses is not None, "without it there is no such route"
        pressed = _press(await _body(request))
        if pressed is None:
            return PlainTextResponse("No press.\n", 400)
        if not is_key(pressed):
            return PlainTextResponse("No key of what is shown.\n", 400)
        taken = presses.put(pressed)
        return PlainTextResponse("Taken.\n", 202) if taken else PlainTextResponse("Void.\n", 409)

    routes = [
        Route("/", show),
        Route("/updates", updates),
        Route("/board.js", _file(script(), "text/javascript")),
        Route("/board.css", _file(style(), "text/css")),
    ]
    if presses is not None:
        routes.append(Route("/press", press, methods=["POST"]))
    return _Guarded(gate, Starlette(routes=routes))


class _Guarded:
    """Lets nothing through that the gate refuses, and gives every answer its headers."""

    def __init__(self, gate: Gate, inner: ASGIApp) -> None:
        self._gate = gate
        self._inner = inner

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                more = [(name.lower().encode(), text.encode()) for name, text in HEADERS.items()]
                message = {**message, "headers": [*message.get("headers", []), *more]}
            await send(message)

        headers = {
            name.decode("latin-1"): text.decode("latin-1") for name, text in scope["headers"]
        }
        if self._gate.refusal(scope["method"], scope["path"], headers) is not None:
            refused = PlainTextResponse(_REFUSED, 403)
            await refused(scope, receive, send_with_headers)
            return
        inside = scope["path"].removeprefix(f"/{self._gate.token}")
        inner = {**scope, "path": inside, "raw_path": inside.encode()}
        await self._inner(inner, receive, send_with_headers)


def _file(content: bytes, media_type: str) -> Callable[[Request], Any]:
    async def give(_request: Request) -> Response:
        return Response(content, media_type=media_type)

    return give


def _last_seen(request: Request) -> int | None:
    """What the browser saw last: its own header after a break, else what the page says."""
    told = request.headers.get("last-event-id") or request.query_params.get("after", "")
    return int(told) if told.isascii() and told.isdigit() and len(told) < 10 else None


async def _stream(feed: Feed, after: int | None) -> AsyncIterator[str]:
    async for update in feed.follow(after):
        yield "event: alive\ndata: 0\n\n" if update is None else _event(update)
    yield "event: over\ndata: 0\n\n"


def _event(update: Update) -> str:
    lines = "".join(f"data: {line}\n" for line in update.html.splitlines())
    return f"event: view\nid: {update.number}\n{lines}\n"


async def _body(request: Request) -> bytes:
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > _LONGEST_PRESS:
            return b""
    return body


def _press(body: bytes) -> Press | None:
    try:
        told = json.loads(body)
    except ValueError:
        return None
    match told:
        case {"word": str(word), "number": int(number)}:
            return Press(word, number)
    return None
