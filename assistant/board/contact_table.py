"""The contacts that were asked for: their lines over travel, and how each stands and should stand.

What should be is only told beside what was heard: nobody is to read it off the board instead of
off the contacts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.board.position import Position
from assistant.board.view import View
from assistant.trade.contacts import ContactState
from assistant.trade.development import Interval
from assistant.trade.unit import Unit

__all__ = ["ContactRow", "expected_at", "rows_of"]


@dataclass(frozen=True, slots=True)
class ContactRow:
    """One contact.

    Args:
        number: its number.
        closed: where in travel the drawing has it closed, in percent.
        expected: how the drawing has it where the valve stands; None where that is not known or
            nothing was heard of it yet.
        heard: how it was told to stand; None where it was not told yet.
    """

    number: int
    closed: tuple[Interval, ...]
    expected: ContactState | None
    heard: ContactState | None

    @property
    def differs(self) -> bool:
        """Whether it was heard to stand otherwise than drawn."""
        return None not in (self.expected, self.heard) and self.expected is not self.heard


def rows_of(view: View) -> Iterator[ContactRow]:
    """A row for each contact that was asked for last; none where there is no unit."""
    if view.unit is None:
        return
    expected = expected_at(view.unit, view.position)
    for number in view.reading.contacts:
        heard = view.reading.states.get(number)
        yield ContactRow(
            number=number,
            closed=view.unit.development.closed[number],
            expected=None if heard is None else expected.get(number),
            heard=heard,
        )


def expected_at(unit: Unit, position: Position) -> Mapping[int, ContactState]:
    """How the drawing has the contacts at a position; empty where that is not known.

    At its trip a rotor is to be left with the change-over just made, so there, within the
    tolerance, its contacts are expected as just past it.
    """
    if position.percent is None:
        return {}
    expected = unit.expected(position.percent)
    for rotor in unit.rotors:
        if abs(position.percent - unit.trip(rotor)) <= unit.tolerance.value:
            expected |= unit.past(rotor)
    return expected
