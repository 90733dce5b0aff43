"""The two states of a limit-switch contact."""

from __future__ import annotations

import enum
from collections.abc import Mapping

__all__ = ["ContactState", "Reading"]


class ContactState(enum.StrEnum):
    """A contact is either open (broken) or closed (made)."""

    OPEN = "open"
    CLOSED = "closed"

    @property
    def other(self) -> ContactState:
        """The opposite state."""
        return ContactState.CLOSED if self is ContactState.OPEN else ContactState.OPEN


Reading = Mapping[int, ContactState]
"""What was read: contact number (1 to 16) to its state."""
