"""How an event and its effects stand in the journal."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from assistant.language.meaning import to_json
from assistant.procedure.values import Value, say
from assistant.session.effects import (
    Advised,
    Confirmed,
    Effect,
    Finished,
    Held,
    Noted,
    Recorded,
    Request,
    Say,
)
from assistant.session.events import Event, event_to_json

__all__ = ["account"]


def account(step: str, event: Event, effects: Iterable[Effect]) -> dict[str, Any]:
    """The body of a journal entry.

    Args:
        step: the step at which the event found the session.
        event: what happened.
        effects: what the session answered.
    """
    body: dict[str, Any] = {**event_to_json(event), "step": step, "said": []}
    for effect in effects:
        match effect:
            case Say(text):
                body["said"].append(text)
            case Request(act, arguments):
                told = {name: say(value) for name, value in arguments.items()}
                body.setdefault("acts", []).append({"act": act.value, **told})
            case Confirmed(confirmed_step, answer):
                body["confirmed"] = {confirmed_step: to_json(answer)}
            case Advised(rotor, advice):
                body["advice"] = {
                    "rotor": rotor,
                    "verdict": advice.verdict.value,
                    "turn": advice.turn and advice.turn.value,
                    "leave": {str(n): state.value for n, state in sorted(advice.leave.items())},
                    "reasons": list(advice.reasons),
                }
            case Recorded(name, value):
                body.setdefault("recorded", []).append(_recorded(name, value))
            case Held(reason):
                body["held"] = reason
            case Noted():
                body["note"] = True
            case Finished():
                body["finished"] = True
    return body


def _recorded(name: str, value: Value) -> dict[str, Any]:
    return {"name": name, "kind": value.kind.value, "value": say(value)}
