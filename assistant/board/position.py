"""Where the valve stands, reckoned from what the technician was asked to do.

Nothing measures it. It is known from a stop on, as long as whole turns are told; once somebody
cranks until something happens, or the motor runs, it is not known until the next stop.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assistant.procedure.deeds import ActKind
from assistant.procedure.values import Value
from assistant.session.effects import Request
from assistant.trade.development import FULL_OPEN, FULL_SHUT
from assistant.trade.motion import Travel
from assistant.trade.turns import to_percent

__all__ = ["Position", "moved"]

_UNCOUNTED = frozenset(
    {
        ActKind.CRANK_SLOWLY,
        ActKind.CRANK_TO_MIDDLE,
        ActKind.UNSEAT,
        ActKind.JOG,
        ActKind.STROKE,
        ActKind.RESTORE_SUPPLIES,
    }
)
"""Acts after which nobody knows by counting where the valve stands."""


@dataclass(frozen=True, slots=True)
class Position:
    """A place in travel.

    Args:
        percent: of travel, 0 the closed seat and 100 full open; None where it is not known.
        reached: False while the technician was asked to bring the valve there and has not answered.
    """

    percent: float | None = None
    reached: bool = False


def moved(position: Position, request: Request, stroke: float | None) -> Position:
    """Where the valve stands once a request is done.

    Args:
        position: where it stood.
        request: what is to be done.
        stroke: handwheel turns of the full stroke; None where it is not known.
    """
    match request.act:
        case ActKind.CRANK_TO_STOP:
            return Position(_end(request.arguments))
        case ActKind.CRANK if stroke is not None and position.percent is not None:
            by = to_percent(request.arguments["turns"].content.value, stroke)
            opening = request.arguments["toward"].content is Travel.OPENING
            percent = position.percent + (by if opening else -by)
            return Position(min(max(percent, FULL_SHUT), FULL_OPEN))
        case act if act is ActKind.CRANK or act in _UNCOUNTED:
            return Position()
    return position


def _end(arguments: Mapping[str, Value]) -> float:
    return FULL_OPEN if arguments["toward"].content is Travel.OPENING else FULL_SHUT
