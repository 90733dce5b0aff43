"""The board of a job: what it shows now, for whoever looks, in a thread of its own.

The voice hands over an event with its effects and goes on at once; what is made of them, and who
looks at it, is done in the board's thread. Whatever goes wrong there never reaches the job.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence

from starlette.types import ASGIApp

from assistant.board.app import board_app
from assistant.board.feed import Feed, Update
from assistant.board.follow import follow, not_shown, standing_still, stopped, with_words
from assistant.board.gate import Gate, new_token
from assistant.board.page import render_broken, render_page, render_view
from assistant.board.server import LOOPBACK, Server, Tls
from assistant.board.view import View
from assistant.session.effects import Effect
from assistant.session.events import Event
from assistant.speech.pressed import Presses

__all__ = ["Board"]


class Board:
    """A board that can be looked at between `open` and `close`.

    Args:
        view: what is shown at first.
        host: the one address that is listened on.
        port: its port; 0 for any that is free.
        tls: the certificate; without it nothing but loopback is listened on.
        presses: where pressed answers go; None where nothing can be pressed.

    Raises:
        BoardError: the address cannot be listened on, or the certificate cannot be used.
    """

    def __init__(
        self,
        view: View,
        host: str = LOOPBACK,
        port: int = 0,
        tls: Tls | None = None,
        presses: Presses | None = None,
    ) -> None:
        self._view = view
        self._presses = presses
        self._handed_over = 0
        self._server = Server(host, port, tls)
        self._gate = Gate(self._server.origin, new_token())
        self._feed = Feed(Update(0, self._html(0)))

    @property
    def address(self) -> str:
        """What is opened to see the board."""
        return self._gate.address

    def open(self) -> None:
        """Answer from now on.

        Raises:
            BoardError: the server does not come up.
        """
        self._server.start(self._app())

    def close(self) -> None:
        """Tell every board that the program ends, and answer no more."""
        self._server.stop(self._feed.end)

    # Called by the voice; none of it waits

    def show(self, event: Event, effects: Sequence[Effect]) -> None:
        """Show what became of an event."""
        self._hand_over(lambda view: follow(view, event, effects))

    def show_failure(self, failure: str) -> None:
        """Show that the job stands still, and why, until its next event."""
        self._hand_over(lambda view: standing_still(view, failure))

    def show_stopped(self, words: Sequence[str], failure: str) -> None:
        """Show that the job has stopped, what is to be done now, and why."""
        self._hand_over(lambda view: stopped(view, words, failure))

    def show_words(self, words: Sequence[str]) -> None:
        """Show the four words of a finished job."""
        self._hand_over(lambda view: with_words(view, words))

    def _hand_over(self, change: Callable[[View], View]) -> None:
        self._handed_over += 1
        number = self._handed_over
        if self._presses is not None:
            self._presses.shown(number)
        self._server.call(lambda: self._take(number, change))

    # In the board's thread

    def _take(self, number: int, change: Callable[[View], View]) -> None:
        try:
            self._view = change(self._view)
            html = self._html(number)
        except Exception as error:  # the job must go on, whatever is wrong here
            print(f"gloveside: the board cannot show this step: {error!r}", file=sys.stderr)
            self._view = not_shown(self._view)  # for whoever opens the page now
            html = render_broken(number)
        self._feed.publish(Update(number, html))

    def _app(self) -> ASGIApp:
        return board_app(self._gate, self._feed, self._page, lambda: self._view.keys, self._presses)

    def _html(self, number: int) -> str:
        return render_view(self._view, number, self._presses is not None)

    def _page(self) -> str:
        return render_page(self._view, self._feed.newest.number, self._presses is not None)
