"""How the rig stands, in a few lines of plain text.

One line for a group of contacts that are drawn and stand alike: their state, where over travel they
are drawn closed (``#``) and open (``.``), where the valve stands (``|``), and in words what has
changed and what is not as drawn here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.rig.actuator import Actuator, Drive
from assistant.rig.motor import lamps_lit
from assistant.trade.contacts import ContactState
from assistant.trade.development import FULL_OPEN, Development, name_contacts
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit

__all__ = ["Look", "looked", "picture"]

WIDTH = 41
"""Characters for the whole travel, so that one stands for 2.5 %."""

_ROD: Mapping[Drive, str] = {
    Drive.ENGAGED: "rod fully out, shafts driven",
    Drive.HALF_ENGAGED: "rod HALF out, shafts slip",
    Drive.DISENGAGED: "rod pressed, shafts free",
}


@dataclass(frozen=True, slots=True)
class Look:
    """What can be seen of a rig at a moment.

    Args:
        percent: where the valve stands in travel.
        turns: the same in handwheel turns from the closed stop.
        drive: how the rod stands.
        contacts: the state of each contact.
        lamps: the lamps that are lit.
        shafts: how each shaft turned that was driven by the last crank.
    """

    percent: float
    turns: float
    drive: Drive
    contacts: Mapping[int, ContactState]
    lamps: tuple[str, ...]
    shafts: Mapping[str, Rotation]


def looked(rig: Actuator) -> Look:
    """Look at a rig."""
    return Look(
        rig.position,
        rig.position_turns,
        rig.drive,
        rig.reading(rig.unit.development.contacts),
        lamps_lit(rig),
        rig.seen,
    )


def picture(look: Look, unit: Unit, before: Look | None = None) -> Iterator[str]:
    """Show what was seen, and what has changed since an earlier look.

    Args:
        look: what is seen.
        unit: whose rig it is, for how its contacts are drawn.
        before: what was seen before; None where nothing is compared.
    """
    yield (
        f"valve {look.percent:.1f} % open, {look.turns:.2f} turns from the closed stop; "
        f"{_ROD[look.drive]}"
    )
    moved = before is None or before.percent != look.percent
    changed = {} if before is None else _changed(look, before)
    if not moved and not changed:
        return
    yield f"lamps lit: {', '.join(look.lamps) or 'none'}{_turned(look) if moved else ''}"
    for contacts in _groups(look, unit, changed):
        yield _line(contacts, look, unit, contacts[0] in changed)


def _turned(look: Look) -> str:
    turned = ", ".join(f"{rotor} {way}" for rotor, way in look.shafts.items())
    return f"; shafts turned: {turned}" if turned else ""


def _changed(look: Look, before: Look) -> Mapping[int, ContactState]:
    return {
        n: before.contacts[n] for n, state in look.contacts.items() if before.contacts[n] != state
    }


def _groups(
    look: Look, unit: Unit, changed: Mapping[int, ContactState]
) -> Iterator[tuple[int, ...]]:
    """Neighbours that are drawn alike and stand alike."""
    group: list[int] = []
    last: object = None
    for contact, state in look.contacts.items():
        alike = (unit.development.closed[contact], state, contact in changed)
        if group and alike != last:
            yield tuple(group)
            group = []
        group.append(contact)
        last = alike
    yield tuple(group)


def _line(contacts: tuple[int, ...], look: Look, unit: Unit, changed: bool) -> str:
    state = look.contacts[contacts[0]]
    numbers = name_contacts(contacts).partition(" ")[2]
    drawn = unit.development.state_at(contacts[0], look.percent)
    words = [f"CHANGED, was {state.other}"] if changed else []
    edges = unit.development.edges(contacts[0])
    if any(abs(look.percent - edge) <= unit.tolerance.value for edge in edges):
        words += ["drawn to change over here"]
    elif drawn is not state:
        words += [f"drawn {drawn} here"]
    bar = _bar(contacts[0], look.percent, unit.development)
    return f"{numbers:<14} {state:<6}  closed seat [{bar}] open  {', '.join(words)}".rstrip()


def _bar(contact: int, percent: float, development: Development) -> str:
    cells = [
        "#"
        if development.state_at(contact, FULL_OPEN * cell / (WIDTH - 1)) is ContactState.CLOSED
        else "."
        for cell in range(WIDTH)
    ]
    cells[round(percent / FULL_OPEN * (WIDTH - 1))] = "|"
    return "".join(cells)
