"""Whether the valve stands where a step takes it to stand, once the record went back.

A crank to a stop may begin anywhere and ends at a known place, and so does one to mid-travel. Who
goes back over one comes to questions that were first asked at another place: contacts that were
read there, a shaft that was turned there. Read or turned here they would mislead: a direction from
contacts that were read elsewhere leads to the inverted change-over. Source: common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Ask, AskKind, Step

__all__ = ["begins_anywhere", "depends_on_place", "leads_elsewhere", "makes_place_known"]

_BEGINS_ANYWHERE = frozenset({ActKind.CRANK_TO_STOP, ActKind.CRANK_TO_MIDDLE})

_AT_ITS_PLACE = frozenset(
    {
        ActKind.CRANK,
        ActKind.CRANK_SLOWLY,
        ActKind.UNSEAT,
        ActKind.DISENGAGE,
        ActKind.TURN_SHAFT,
    }
)
"""Acts that go on from where the valve stands. A rod is let in, and shafts are tried, anywhere."""

_ASKED_AT_ITS_PLACE = frozenset(
    {AskKind.CONTACTS, AskKind.LAMPS, AskKind.MARK, AskKind.NUMBER, AskKind.ROTATION}
)


def leads_elsewhere(acts: Iterable[ActKind]) -> bool:
    """Whether nobody can crank back by a count to where the valve stood before these acts."""
    return not {*acts}.isdisjoint(_BEGINS_ANYWHERE | {ActKind.UNSEAT})


def begins_anywhere(acts: Iterable[ActKind]) -> bool:
    """Whether the first of these acts that has to do with the valve's place ends at a known one."""
    placed = (act for act in acts if act in _BEGINS_ANYWHERE | _AT_ITS_PLACE)
    return next(placed, None) in _BEGINS_ANYWHERE


def makes_place_known(acts: Iterable[ActKind]) -> bool:
    """Whether it is known where the valve stands after these acts, wherever it stood before.

    Nobody energises it but at mid-travel.
    """
    return not {*acts}.isdisjoint(_BEGINS_ANYWHERE | {ActKind.ENERGISE})


def depends_on_place(step: Step, acts: Iterable[ActKind]) -> bool:
    """Whether a step is only right where the valve was brought before it.

    Args:
        step: the step.
        acts: what is asked for at it, and before it where that belongs to it.
    """
    acts = [*acts]
    if begins_anywhere(acts):
        return False
    asked = isinstance(step.action, Ask) and step.action.kind in _ASKED_AT_ITS_PLACE
    return asked or not _AT_ITS_PLACE.isdisjoint(acts)
