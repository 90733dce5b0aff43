"""What must be put back at the valve when the record goes back.

Going back undoes an answer, and not the world: what was done since is named, with its opposite.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from assistant.language.speaking import say_number
from assistant.procedure.deeds import ActKind
from assistant.procedure.values import Kind, Value, say
from assistant.session import wording
from assistant.session.effects import Request

__all__ = ["NOTHING_TO_UNDO", "PUT_BACK", "crank_back", "cranked", "put_back", "without_turns"]

Told = Mapping[str, Value]
Table = Mapping[ActKind, Callable[[Told], str]]


def put_back(done: Iterable[Request]) -> tuple[str, ...]:
    """What may stand otherwise now, the last act first; none where nothing was done.

    One prompt for each, for each is to be done before the next is heard. The pace of a shaft comes
    before the first that is to be turned back.
    """
    undone = [request for request in done if request.act in _STANDS]
    texts = [_STANDS[request.act](request.arguments) for request in reversed(undone)]
    turns = [request.act is ActKind.TURN_SHAFT for request in reversed(undone)]
    if any(turns):
        texts.insert(turns.index(True), wording.SHAFT_LIMIT)
    return tuple(dict.fromkeys(texts))


def without_turns(done: Iterable[Request]) -> tuple[Request, ...]:
    """The same acts, but for shafts that were turned: their contacts are read anew."""
    return tuple(request for request in done if request.act is not ActKind.TURN_SHAFT)


def cranked(done: Iterable[Request]) -> tuple[Request, ...]:
    """The acts that are undone with the crank."""
    return tuple(request for request in done if request.act in _UNDO)


def crank_back(done: Iterable[Request]) -> tuple[str, ...]:
    """What to crank back, the last act first, each a prompt, once it is safe to."""
    texts = (_UNDO[request.act](request.arguments) for request in reversed([*cranked(done)]))
    return tuple(dict.fromkeys(texts))


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
"""What to undo by hand. A crank to a stop is not undone: what was asked before it, where the valve
stood then, is asked again only there (`valve_place`)."""

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
"""Acts that are not put back."""
