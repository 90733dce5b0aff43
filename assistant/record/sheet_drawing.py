"""The contact development of a unit sheet as a drawing of its own, in SVG.

A line for each contact over travel, thick where it is closed, as the trade draws it; below each
rotor its trip in percent and in handwheel turns, and last the lamps. It holds no colour, script or
address: it is to be printed and laid beside the plant's drawing.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass

from assistant.record.development import ContactLine, picture
from assistant.record.templates import template
from assistant.record.words import clean
from assistant.trade.approach import approach
from assistant.trade.motion import Travel
from assistant.trade.turns import to_turns
from assistant.trade.unit import Rotor, Unit

__all__ = ["draw_sheet"]

_LONGEST_LINE = 110
"""Characters that fit beside each other."""

_LONGEST_NAME = 12
"""Characters of a lamp's name and of its colour that fit left of the lines."""


@dataclass(frozen=True, slots=True)
class LampLine:
    """A lamp: its name with its colour, and the line of its contact in the lamp's own row."""

    name: str
    line: ContactLine


def draw_sheet(unit: Unit) -> str:
    """The drawing of a unit sheet, as the text of an SVG file."""
    drawn = picture(unit, ())
    return template("sheet.svg.jinja").render(
        picture=drawn,
        tag=clean(unit.tag),
        head=list(_head(unit)),
        trips={clean(rotor.name): _trip(unit, rotor) for rotor in unit.rotors},
        contacts={number: _contact(unit, number) for number in unit.development.contacts},
        lamps=list(_lamps(unit, drawn.rows)),
        turns={at: f"{to_turns(at, unit.stroke_turns.value):.4g}" for at in range(0, 101, 20)},
    )


def _head(unit: Unit) -> Iterator[str]:
    yield from textwrap.wrap(clean(unit.service), _LONGEST_LINE)
    head = (
        f"Drawing {clean(unit.drawing)}, revision {clean(unit.revision)}. Seats on {unit.seating}. "
        f"Full stroke {unit.stroke_turns.value:g} handwheel turns "
        f"({clean(unit.stroke_turns.origin)})."
    )
    yield from textwrap.wrap(head, _LONGEST_LINE)


def _trip(unit: Unit, rotor: Rotor) -> str:
    """Where a rotor trips, and how it is brought there."""
    way = approach(unit, rotor)
    stop = "open" if way.stop is Travel.OPENING else "closed"
    unit_word = "turn" if way.turns == 1 else "turns"
    arrow = "\N{RIGHTWARDS ARROW}" if rotor.set_while is Travel.OPENING else "\N{LEFTWARDS ARROW}"
    return (
        f"{arrow} {unit.trip(rotor):g} %: {way.turns:.4g} {unit_word} from the {stop} stop, "
        f"set while {rotor.set_while}"
    )


def _contact(unit: Unit, number: int) -> str:
    return f"contact {number}{', bypass' if number == unit.bypass else ''}"


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST_NAME else f"{text[: _LONGEST_NAME - 1]}…"


def _lamps(unit: Unit, rows: int) -> Iterator[LampLine]:
    # One row is their heading.
    for row, lamp in enumerate(unit.lamps, rows + 1):
        name = f"{_short(clean(lamp.name))}, {_short(clean(lamp.colour))}: contact {lamp.contact}"
        yield LampLine(name, ContactLine(lamp.contact, row, unit.development.closed[lamp.contact]))
