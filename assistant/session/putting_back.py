"""What must be put back at the valve when the record goes back.

Going back undoes an answer, and not the world: what was done since is named, with its opposite.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from assistant.language.speaking import say_number
from assistant.procedure.deeds import ActKind
from assistant.procedure.values import Kind, Value, say
from assistant.session.effects import Request

__all__ = ["NOTHING_TO_UNDO", "PUT_BACK", "crank_back", "put_back"]

Told = Mapping[str, Value]
Table = Mapping[ActKind, Callable[[Told], str]]


def put_back(done: Iterable[Request]) -> tuple[str, ...]:
    """What may stand otherwise now, the last act first; none where nothing was done."""
    return _said(done, _STANDS)


def crank_back(done: Iterable[Request]) -> tuple[str, ...]:
    """What to crank or turn back, the last act first, once it is safe to."""
    return _said(done, _UNDO)


def _said(done: Iterable[Request], table: Table) -> tuple[str, ...]:
    known = [request for request in reversed(list(done)) if request.act in table]
    return tuple(dict.fromkeys(table[request.act](request.arguments) for request in known))


def _crank(told: Told) -> str:
    turns = told["turns"].content
    return f"If it was cranked, crank back {say_number(turns.value, turns.unit)} {_back(told)}."


def _crank_on(told: Told) -> str:
    return f"If it was cranked on, crank back {_back(told)} to where the last count was."


def _back(told: Told) -> str:
    return say(Value(Kind.TRAVEL, told["toward"].content.opposite))


def _turn_shaft(told: Told) -> str:
    way = told["way"].content
    rotor = told["rotor"].content.rotor.name
    # A step may have turned it the one way and another step back: each names its own.
    return f"If the {rotor} shaft was turned {way}, turn it back {way.opposite}, slowly."


_STANDS: Table = {
    ActKind.DISENGAGE: lambda _told: "The setting rod may be pressed in.",
    ActKind.ENGAGE: lambda _told: "The setting rod may be out already.",
    ActKind.TURN_SHAFT: _turn_shaft,
    ActKind.ENERGISE: lambda _told: "The supply may be on.",
    ActKind.LOCK_OFF: lambda _told: "The supply may be off.",
    ActKind.RESTORE_SUPPLIES: lambda _told: "The supplies may be on again.",
}
"""What may stand otherwise after an act."""

_UNDO: Table = {ActKind.CRANK: _crank, ActKind.CRANK_SLOWLY: _crank_on}
"""What to undo by hand. A crank to a stop needs nothing: the step says from where it begins."""

PUT_BACK = frozenset({*_STANDS, *_UNDO})
"""Acts after which something is said when the record goes back."""

NOTHING_TO_UNDO = frozenset(
    {
        ActKind.CRANK_TO_STOP,
        ActKind.CRANK_TO_MIDDLE,
        ActKind.UNSEAT,
        ActKind.TRY_SHAFTS,
        ActKind.JOG,
        ActKind.STROKE,
    }
)
"""Acts that may be done again from wherever the valve stands."""
