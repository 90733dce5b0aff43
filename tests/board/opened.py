"""A board that is open for a test, and what may happen in a job for it to show."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator

from assistant.board.board import Board
from assistant.board.server import Tls
from assistant.board.view import View, first_view
from assistant.session.effects import Effect
from assistant.session.events import Event
from assistant.speech.pressed import Presses
from tests.session.job import Job, kf, two_ends

__all__ = ["Exchange", "exchanges", "opened"]

Exchange = tuple[Event, tuple[Effect, ...]]


def exchanges(*replies: str) -> list[Exchange]:
    """What happens in a job, up to these replies."""

    class Kept(Job):
        def take(self, event: Event) -> Job:
            super().take(event)
            kept.append((event, self.effects))
            return self

    kept: list[Exchange] = []
    Kept().say(*replies)
    return kept


@contextlib.contextmanager
def opened(
    view: View | None = None, presses: Presses | None = None, tls: Tls | None = None
) -> Iterator[Board]:
    """A board of a short job, or one that begins with another view."""
    board = Board(view or first_view(two_ends(), kf("07")), presses=presses, tls=tls)
    board.open()
    with contextlib.closing(board):
        yield board
