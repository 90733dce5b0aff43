"""What keeps a command from doing its work, in the user's words."""

from __future__ import annotations

import enum

__all__ = ["Complaint", "Exit"]


class Exit(enum.IntEnum):
    """The exit codes of every command."""

    DONE = 0
    PROBLEMS = 1
    BAD_USE = 2
    HELD = 3


class Complaint(Exception):  # noqa: N818 - it says what happened, in the users' words
    """Something is wrong that the user can mend; the message names it and the remedy."""

    def __init__(self, message: str, code: Exit = Exit.BAD_USE) -> None:
        self.code = code
        super().__init__(message)
