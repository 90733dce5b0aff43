"""When the answer to the open question was said first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from assistant.session.dialogue import Dialogue

__all__ = ["FirstSaid"]


@dataclass(slots=True)
class FirstSaid:
    """The moment of an answer: that of its first saying, and not of its confirmation.

    Who was misheard says it again later; the shaft had stopped when it was said first.

    Args:
        at: the moment; until an answer was heard any.
    """

    at: datetime
    _question: Dialogue | None = None
    _doubted_at: datetime | None = None

    def doubt(self, dialogue: Dialogue, now: datetime) -> None:
        """One of two replies was heard; unless it is asked which, none was."""
        self._doubted_at = now if dialogue.in_doubt else None

    def note(self, dialogue: Dialogue, now: datetime) -> None:
        """An answer was understood, or which of two it was."""
        if self._question is not dialogue:
            doubted_at = self._doubted_at if dialogue.in_doubt else None
            self._question, self.at = dialogue, doubted_at or now

    def neither(self) -> None:
        """It was neither of the two: what was heard then began and stopped nothing."""
        self._doubted_at = None

    def forget(self) -> None:
        """What is said from now on is said first: nobody knows what went on meanwhile."""
        self._question = self._doubted_at = None
