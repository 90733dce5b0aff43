"""How an event and its effects stand in the journal."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from assistant.language.meaning import to_json
from assistant.procedure.values import Kind, Trip, say
from assistant.session.effects import (
    Advised,
    Begun,
    Confirmed,
    Deviated,
    Done,
    Effect,
    Failed,
    Finished,
    Held,
    HoldClosed,
    Noted,
    Proved,
    Recorded,
    Request,
    Say,
    Skipped,
    Voided,
    WentBack,
)
from assistant.session.events import Event, Heard, clip_to_json, event_to_json

__all__ = ["account", "decided"]


def account(step: str, event: Event, effects: Iterable[Effect]) -> dict[str, Any]:
    """The body of a journal entry.

    Args:
        step: the step at which the event found the session.
        event: what happened.
        effects: what the session answered.
    """
    return {**event_to_json(event), **decided(step, effects)}


def decided(step: str, effects: Iterable[Effect]) -> dict[str, Any]:
    """The same without the event: what the session made of it."""
    body: dict[str, Any] = {"step": step, "said": []}
    for effect in effects:
        kind = type(effect)
        if kind in _LISTED:
            name, tell = _LISTED[kind]
            body.setdefault(name, []).append(tell(effect))
        elif kind in _ONCE:
            body.update(_ONCE[kind](effect))
    return body


def _act(request: Request) -> dict[str, Any]:
    told = {name: say(value) for name, value in request.arguments.items()}
    return {"act": request.act.value, **told}


def _advice(advised: Advised) -> dict[str, Any]:
    advice = advised.advice
    return {
        "rotor": advised.rotor,
        "verdict": advice.verdict.value,
        "turn": advice.turn and advice.turn.value,
        "leave": {str(n): state.value for n, state in sorted(advice.leave.items())},
        "reasons": list(advice.reasons),
    }


def _recorded(recorded: Recorded) -> dict[str, Any]:
    value = recorded.value
    told: dict[str, Any] = {"name": recorded.name, "kind": value.kind.value, "value": say(value)}
    if recorded.rotor:
        told["rotor"] = recorded.rotor
    if value.kind in _WRITTEN:
        told["written"] = _WRITTEN[value.kind](value.content)
    return told


def _trip(trip: Trip) -> dict[str, Any]:
    return {
        "percent": round(trip.percent, 3),
        "error": round(trip.error.percent, 3),
        "turns": round(trip.turns, 3),
        "within": trip.error.within,
    }


def _words(kept: Heard | None) -> Any:
    """What was just heard stands in the entry itself; a reason that was agreed on is named."""
    if kept is None:
        return True
    return {"text": kept.recognition.text, "clip": clip_to_json(kept.clip)}


_WRITTEN: Mapping[Kind, Callable[[Any], Any]] = {
    Kind.LETTERS: str,
    Kind.DATE: lambda day: day.isoformat(),
    Kind.MOMENT: lambda moment: moment.at.isoformat(timespec="seconds"),
    Kind.READING: to_json,
    Kind.NUMBER: to_json,
    Kind.LAMPS: to_json,
    Kind.TRIP: _trip,
    Kind.TRAVEL: lambda travel: travel.value,
}
"""How values are written that are spoken otherwise."""


_LISTED: Mapping[type[Effect], tuple[str, Callable[[Any], Any]]] = {
    Say: ("said", lambda effect: effect.text),
    Request: ("acts", _act),
    Recorded: ("recorded", _recorded),
    Begun: ("begun", lambda effect: effect.step),
    Done: ("done", lambda effect: {"step": effect.step, "outcome": effect.outcome}),
    Proved: ("proved", lambda effect: effect.fact.value),
    Deviated: ("deviations", lambda effect: effect.text),
}
"""Effects of which an entry can have several: the field that lists them, and how each is told."""

_ONCE: Mapping[type[Effect], Callable[[Any], dict[str, Any]]] = {
    Confirmed: lambda effect: {"confirmed": {effect.step: to_json(effect.answer)}},
    Advised: lambda effect: {"advice": _advice(effect)},
    Held: lambda effect: {"held": effect.reason, "hold_kind": effect.kind.value},
    HoldClosed: lambda effect: {"hold_closed": {"reason": effect.reason, "by": effect.by}},
    Skipped: lambda effect: {"skipped": {"step": effect.step, "by": effect.by}},
    Voided: lambda effect: {"voided": list(effect.rotors)},
    WentBack: lambda effect: {"went_back": effect.step},
    Failed: lambda effect: {
        "failed": {"why": effect.failure.why.value, "count": effect.failure.count}
    },
    Noted: lambda effect: {"note": _words(effect.words)},
    Finished: lambda _effect: {"finished": True},
}
"""Effects of which an entry has one at most, and the fields that each gives; what is only done and
not kept is in neither."""
