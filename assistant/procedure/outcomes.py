"""The outcomes after which a step must say where to go on."""

from __future__ import annotations

from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.model import Ask, AskKind, Branch, Compute, End, Repeat, Step

__all__ = ["outcomes_of"]


def outcomes_of(step: Step) -> tuple[str, ...]:
    """The outcomes of a step; ``next`` alone where nothing is decided."""
    match step.action:
        case Ask() as ask:
            return _of_ask(ask, step)
        case Compute(computation=name):
            return COMPUTATIONS[name].outcomes
        case Branch():
            # What a branch can meet is checked where the kinds of its value are known.
            return tuple(step.go)
        case Repeat():
            return ("again", "otherwise")
        case End():
            return ()
        case _:
            return ("next",)


def _of_ask(ask: Ask, step: Step) -> tuple[str, ...]:
    if ask.kind is AskKind.YES_NO:
        return ("yes", "no")
    if ask.kind is AskKind.AGREEMENT:
        return ("agreed", "not-agreed")
    if ask.kind is AskKind.SPELLING and ask.expect is not None:
        return ("match", "mismatch")
    if ask.kind is AskKind.NUMBER and not set(step.go) <= {"next"}:
        return (*(ask.called or ("next",)), *ask.instead)
    if ask.kind is AskKind.CHOICE and not set(step.go) <= {"next"}:
        return ask.choices
    return ("next",)
