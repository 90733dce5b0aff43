"""What must be put back at the valve when the record goes back.

Going back undoes an answer, and not the world: what was done since is named, with its opposite.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from assistant.language.speaking import say_number
from assistant.procedure.deeds import ActKind
from assistant.procedure.values import Kind, Value, say
from assistant.session.effects import Request

__all__ = ["put_back"]

Told = Mapping[str, Value]


def put_back(done: Iterable[Request]) -> str:
    """Sentences that say what to undo, the last act first; empty where nothing was done."""
    said = (_UNDO[request.act](request.arguments) for request in reversed(list(done)))
    return " ".join(sentence for sentence in said if sentence)


def _crank(told: Told) -> str:
    turns = told["turns"].content
    back = Value(Kind.TRAVEL, told["toward"].content.opposite)
    return f"If it was cranked, crank back {say_number(turns.value, turns.unit)} {say(back)}."


def _moved(_told: Told) -> str:
    return "The valve may stand elsewhere now: bring it back to where it was."


def _turn_shaft(told: Told) -> str:
    way = told["way"].content
    rotor = told["rotor"].content.rotor.name
    return f"If the {rotor} shaft was turned, turn it back {way.opposite}."


_UNDO: Mapping[ActKind, Callable[[Told], str]] = {
    ActKind.CRANK_TO_STOP: _moved,
    ActKind.CRANK: _crank,
    ActKind.CRANK_SLOWLY: _moved,
    ActKind.CRANK_TO_MIDDLE: _moved,
    ActKind.UNSEAT: _moved,
    ActKind.DISENGAGE: lambda _told: "The setting rod may be pressed in.",
    ActKind.ENGAGE: lambda _told: "The setting rod may be out already.",
    ActKind.TRY_SHAFTS: lambda _told: "",
    ActKind.TURN_SHAFT: _turn_shaft,
    ActKind.ENERGISE: lambda _told: "The supply may be on.",
    ActKind.JOG: _moved,
    ActKind.STROKE: _moved,
    ActKind.LOCK_OFF: lambda _told: "The supply may be off.",
}
"""What is said for each act."""
