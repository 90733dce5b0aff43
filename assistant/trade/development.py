"""The contact development: where over the travel of the valve each contact is closed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from assistant.trade.contacts import ContactState

__all__ = ["FULL_OPEN", "FULL_SHUT", "Development", "DevelopmentError", "Interval", "name_contacts"]

FULL_SHUT = 0.0
"""Travel in percent at the closed seat."""

FULL_OPEN = 100.0
"""Travel in percent at full open."""

Interval = tuple[float, float]
"""Two ends in percent of travel, the lower one first."""


class DevelopmentError(ValueError):
    """A question that the contact development cannot answer."""


@dataclass(frozen=True, slots=True)
class Development:
    """What the drawing shows, as it is written in the unit sheet.

    A development alone is not checked: the `Unit` that it becomes part of refuses a wrong one and
    names every fault at once.

    Args:
        closed: for each contact its closed intervals in percent of travel, 0 the closed seat and
            100 full open; ascending and apart from each other.
    """

    # A mapping has no hash; leaving it out keeps the sheet usable as a key.
    closed: Mapping[int, tuple[Interval, ...]] = field(hash=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "closed", MappingProxyType(dict(self.closed)))

    @property
    def contacts(self) -> tuple[int, ...]:
        """The contacts that have a line, ascending."""
        return tuple(sorted(self.closed))

    def state_at(self, contact: int, travel: float) -> ContactState:
        """State of a contact at a place in travel; exactly on an edge it counts as closed.

        Args:
            contact: number of the contact.
            travel: percent of travel, 0 to 100.

        Raises:
            DevelopmentError: the contact has no line, or the travel lies outside 0 to 100 %.

        >>> Development({5: ((0, 2.4),)}).state_at(5, 50)
        <ContactState.OPEN: 'open'>
        """
        if not FULL_SHUT <= travel <= FULL_OPEN:
            raise DevelopmentError(f"Travel {travel} % is outside the stroke: give 0 to 100 %.")
        made = any(low <= travel <= high for low, high in self._line(contact))
        return ContactState.CLOSED if made else ContactState.OPEN

    def edges(self, contact: int) -> tuple[float, ...]:
        """Where within the stroke the contact changes over, in percent, ascending.

        The two ends of the stroke are no edges.

        >>> Development({1: ((98.4, 100),)}).edges(1)
        (98.4,)
        """
        ends = (end for interval in self._line(contact) for end in interval)
        return tuple(sorted(end for end in ends if FULL_SHUT < end < FULL_OPEN))

    def single_edges(self, contacts: Iterable[int]) -> dict[int, float]:
        """The edge of each of these contacts that changes over once, as it should, in percent.

        A contact without a line, with no edge or with several is left out.

        >>> Development({1: ((98.4, 100),), 2: ((0, 100),)}).single_edges([1, 2, 3])
        {1: 98.4}
        """
        known = [contact for contact in contacts if contact in self.closed]
        lines = {contact: self.edges(contact) for contact in known}
        return {contact: edges[0] for contact, edges in lines.items() if len(edges) == 1}

    def _line(self, contact: int) -> tuple[Interval, ...]:
        try:
            return self.closed[contact]
        except KeyError:
            known = name_contacts(self.contacts) if self.closed else "no contact"
            raise DevelopmentError(
                f"Contact {contact} has no line in the contact development, which shows {known}."
            ) from None


def name_contacts(contacts: Iterable[int]) -> str:
    """Name one or more contacts as a person writes them.

    >>> name_contacts([1]), name_contacts([1, 2, 3])
    ('contact 1', 'contacts 1, 2 and 3')
    """
    *first, last = map(str, contacts)
    return f"contacts {', '.join(first)} and {last}" if first else f"contact {last}"
