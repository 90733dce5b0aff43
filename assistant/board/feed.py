"""Numbered updates for any number of boards.

A board keeps the number of the last update that it showed, and nothing else is kept for it: it is
given what came after that number, so that a break loses nothing. One that reads too slowly is not
waited for: it goes on with the newest update, which is always a full view. All of it runs on one
event loop; nothing here may be called from another thread.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import AsyncIterator
from dataclasses import dataclass

__all__ = ["KEPT", "MOST_BEHIND", "SIGN_OF_LIFE", "Feed", "Update"]

KEPT = 512
"""Updates that are kept for a board that comes back; a whole job has about two hundred."""

MOST_BEHIND = 8
"""Updates that a connected board may be behind before it is given the newest alone."""

SIGN_OF_LIFE = 2.0
"""Seconds after which a board is told that nothing has happened."""


@dataclass(frozen=True, slots=True)
class Update:
    """One full view.

    Args:
        number: from 0, one more each time.
        html: the part of the page that changes.
    """

    number: int
    html: str


class Feed:
    """The updates of one run of the program.

    Args:
        first: the update with which it begins.
        sign_of_life: seconds of quiet after which a follower gets None.
    """

    def __init__(self, first: Update, sign_of_life: float = SIGN_OF_LIFE) -> None:
        self._kept = deque((first,), KEPT)
        self._sign_of_life = sign_of_life
        self._changed = asyncio.Event()
        self._over = False

    @property
    def newest(self) -> Update:
        """The update that counts."""
        return self._kept[-1]

    def publish(self, update: Update) -> None:
        """Give an update to every board; its number must be the next one."""
        assert update.number == self.newest.number + 1, "no number may be left out"
        self._kept.append(update)
        self._wake()

    def end(self) -> None:
        """Let every follower end once it has the newest update."""
        self._over = True
        self._wake()

    async def follow(self, after: int | None) -> AsyncIterator[Update | None]:
        """Every update after a number; None is a sign of life.

        Args:
            after: the number of the last update that was shown; None, or one that this feed has
                never given, for the newest update alone.
        """
        for update in self._missed(after):
            yield update
            after = update.number
        while True:
            changed = self._changed
            behind = self._missed(after)
            for update in behind[-1:] if len(behind) > MOST_BEHIND else behind:
                yield update
                after = update.number
            if behind:
                continue
            if self._over:
                return
            try:
                await asyncio.wait_for(changed.wait(), self._sign_of_life)
            except TimeoutError:
                yield None

    def _missed(self, after: int | None) -> tuple[Update, ...]:
        oldest, newest = self._kept[0].number, self.newest.number
        if after is None or not oldest - 1 <= after <= newest:
            return (self.newest,)
        return tuple(self._kept)[after + 1 - oldest :]

    def _wake(self) -> None:
        changed, self._changed = self._changed, asyncio.Event()
        changed.set()
