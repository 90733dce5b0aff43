"""The trip error: where a rotor changes over, against where it is drawn to."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.trade.approach import approach
from assistant.trade.development import FULL_OPEN
from assistant.trade.motion import Travel
from assistant.trade.turns import to_percent, to_turns
from assistant.trade.unit import Rotor, Unit

__all__ = ["TripError", "trip_error"]

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class TripError:
    """How far a trip is off.

    Args:
        turns: handwheel turns; positive where the trip lies further open than drawn.
        percent: the same in percent of travel.
        within: whether that is at most the unit's tolerance.
    """

    turns: float
    percent: float
    within: bool

    @classmethod
    def at(cls, unit: Unit, rotor: Rotor, percent: float, stroke_turns: float) -> TripError:
        """The error of a trip that was found there in travel, with a stroke of so many turns."""
        error = percent - unit.trip(rotor)
        within = abs(error) <= unit.tolerance.value + _ROUNDING
        return cls(to_turns(error, stroke_turns), error, within)


def trip_error(unit: Unit, rotor: Rotor, marked: float) -> TripError:
    """The trip error that a proof by hand shows.

    Whether the rotor changes over in the drawn sense is not told by it, but by the contacts where
    the proof begins.

    Args:
        unit: the unit sheet.
        rotor: one of its rotors.
        marked: handwheel turns counted from where the proof begins (`Approach.start`), in the
            direction in which the rotor is set, until its contacts changed over.

    Raises:
        TravelError: the count is not finite.
    """
    way, stroke = approach(unit, rotor), unit.stroke_turns.value
    from_stop = way.start - marked if way.toward is way.stop else way.start + marked
    percent = to_percent(from_stop, stroke)
    trip = percent if way.stop is Travel.CLOSING else FULL_OPEN - percent
    return TripError.at(unit, rotor, trip, stroke)
