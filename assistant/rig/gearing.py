"""How one rotor is driven: its gears, and the intermediate shaft that they turn.

Once in every cycle of its shaft the rotor snaps a quarter turn, which changes all its contacts
over at once; so consecutive change-overs alternate in sense (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from assistant.trade.motion import Rotation, Travel
from assistant.trade.travel import to_turns
from assistant.trade.trip import Sense

__all__ = ["Gearing", "RigError", "Sense", "Shaft"]


class RigError(ValueError):
    """A rig that cannot be built, or a handling that it does not allow."""


@dataclass(frozen=True, slots=True)
class Gearing:
    """How one rotor is geared, and how it was set before.

    Args:
        revolutions_per_stroke: shaft revolutions while the valve makes its full stroke.
        rotation_while_opening: how the shaft turns while the valve opens.
        cycle: shaft revolutions between two change-overs; more than a stroke has, so that the
            rotor trips at most once in it.
        offset: shaft revolutions, counted from the closed seat in its opening rotation, at which
            the rotor changes over as drawn. One cycle on is the inverted change-over, two cycles
            on the next drawn one.

    Raises:
        RigError: a value is impossible.
    """

    revolutions_per_stroke: float
    rotation_while_opening: Rotation
    cycle: float
    offset: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.revolutions_per_stroke < self.cycle < math.inf:
            raise RigError(
                f"A cycle of {self.cycle} revolutions cannot go with a stroke of "
                f"{self.revolutions_per_stroke}: give a stroke above 0 and a longer cycle."
            )
        if not math.isfinite(self.offset):
            raise RigError(f"An offset of {self.offset} revolutions is impossible: give a number.")

    def tripping_at(self, percent: float, sense: Sense = Sense.DRAWN) -> Gearing:
        """The same gears, set so that the rotor trips there in travel and in that sense."""
        away = 0.0 if sense is Sense.DRAWN else self.cycle
        return replace(self, offset=to_turns(percent, self.revolutions_per_stroke) + away)

    def standing_past(self, travel: Travel) -> Gearing:
        """The same gears, set so that the rotor does not trip in the stroke at all.

        Args:
            travel: its contacts stay as they are drawn past the trip in this direction.
        """
        # The run of one cycle lies centred on the stroke, as far from either change-over.
        before = (self.cycle - self.revolutions_per_stroke) / 2
        return replace(self, offset=-before + (0 if travel is Travel.OPENING else self.cycle))


@dataclass(slots=True)
class Shaft:
    """An intermediate shaft and the rotor that it turns.

    After an even number of snaps the contacts stand as drawn past the trip in opening, after an
    odd number as drawn past it in closing.

    Args:
        gearing: how the rotor is geared.
        angle: shaft revolutions, counted as the offset of the gearing is.
        snaps: change-overs so far, those made against the opening rotation counted down.
    """

    gearing: Gearing
    angle: float
    snaps: int

    @classmethod
    def standing(cls, gearing: Gearing, percent: float) -> Shaft:
        """The shaft of a rotor so geared, where it stands with the valve at that percentage."""
        angle = to_turns(percent, gearing.revolutions_per_stroke)
        return cls(gearing, angle, math.floor((angle - gearing.offset) / gearing.cycle))

    @property
    def side(self) -> Travel:
        """The direction of travel past whose trip the contacts stand."""
        return Travel.CLOSING if self.snaps % 2 else Travel.OPENING

    def sign(self, rotation: Rotation) -> int:
        """Whether a rotation counts the angle up or down."""
        return 1 if rotation is self.gearing.rotation_while_opening else -1

    def turn(self, revolutions: float) -> None:
        """Turn by revolutions, positive the opening way; reaching a change-over makes it."""
        self.angle += revolutions
        cycles = (self.angle - self.gearing.offset) / self.gearing.cycle
        if revolutions > 0:
            self.snaps = max(self.snaps, math.floor(cycles))
        elif revolutions < 0:
            self.snaps = min(self.snaps, math.ceil(cycles) - 1)

    def following(self, sign: int) -> tuple[float, int]:
        """The next change-over that way: its angle, and the snaps once it is made.

        Args:
            sign: 1 the opening way, -1 the other.
        """
        edge = self.snaps + (1 if sign > 0 else 0)
        return self.gearing.offset + edge * self.gearing.cycle, self.snaps + sign

    def away(self, sign: int) -> float:
        """Revolutions to the next change-over that way; 0 where the shaft stands on it."""
        return max(0.0, sign * (self.following(sign)[0] - self.angle))

    def stand_on(self, change_over: tuple[float, int]) -> None:
        """Stand exactly on a change-over that was reached but for the rounding of the sums."""
        self.angle, self.snaps = change_over

    def turn_until_snap(self, sign: int, at_most: float) -> float | None:
        """Turn up to the next change-over.

        Args:
            sign: 1 the opening way, -1 the other.
            at_most: revolutions after which to give up.

        Returns:
            The revolutions made, or None where the change-over lies further away.
        """
        away = self.away(sign)
        if away > at_most:
            self.turn(sign * at_most)
            return None
        self.stand_on(self.following(sign))
        return away

    def twin(self) -> Shaft:
        """Another shaft that stands as this one."""
        return Shaft(self.gearing, self.angle, self.snaps)
