"""The data of a unit sheet, as written and not yet checked.

`assistant.trade.sheet_faults` says what is wrong with a sheet; `assistant.trade.unit` holds one
that was found right.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass

from assistant.trade.development import Development
from assistant.trade.drive import stroke_seconds
from assistant.trade.motion import Travel

__all__ = [
    "DEFAULT_STROKE_TIME_TOLERANCE",
    "DEFAULT_TOLERANCE",
    "ROTOR_NAMES",
    "Drive",
    "Lamp",
    "Place",
    "Rotor",
    "Seating",
    "Sheet",
    "Sourced",
]


ROTOR_NAMES = ("open", "closed", "third", "fourth")
"""How procedures call the rotors: by the end at which the first two are set (common practice, no
source)."""


class Seating(enum.StrEnum):
    """What stops the valve at its closed end."""

    TORQUE = "torque"
    POSITION = "position"


class Place(enum.StrEnum):
    """Where in travel a rotor is set."""

    OPEN_END = "open end"
    CLOSED_END = "closed end"
    TRAVEL = "travel"

    @property
    def set_while(self) -> Travel | None:
        """The only direction of travel in which a rotor can be set here; None if either can."""
        match self:
            case Place.OPEN_END:
                return Travel.OPENING
            case Place.CLOSED_END:
                return Travel.CLOSING
            case Place.TRAVEL:
                return None


@dataclass(frozen=True, slots=True)
class Sourced:
    """A number with its unit and where it comes from ("drawing", "site procedure", …)."""

    value: float
    unit: str
    origin: str


DEFAULT_TOLERANCE = Sourced(0.5, "%", "default of this program")
"""How far apart, in percent of travel, the edges of one rotor may be drawn, and how far from the
drawing its trip may be found."""

DEFAULT_STROKE_TIME_TOLERANCE = Sourced(10.0, "%", "default of this program")
"""How far, in percent, a measured stroke time may be from the data."""


@dataclass(frozen=True, slots=True)
class Drive:
    """What drives the valve.

    Args:
        travel: of the stem over the full stroke, in a unit of length.
        gear_ratio: motor revolutions for one of the stem nut.
        motor_rpm: motor speed [1/min].
        stem_lead: travel of the stem for one revolution of its nut, in the same unit of length.
    """

    travel: Sourced
    gear_ratio: Sourced
    motor_rpm: Sourced
    stem_lead: Sourced

    @property
    def numbers(self) -> dict[str, Sourced]:
        """Every number by its name in the sheet."""
        return {
            "stem_travel": self.travel,
            "gear_ratio": self.gear_ratio,
            "motor_speed": self.motor_rpm,
            "stem_lead": self.stem_lead,
        }

    @property
    def seconds(self) -> float:
        """Seconds of a full stroke."""
        return stroke_seconds(
            self.travel.value, self.gear_ratio.value, self.motor_rpm.value, self.stem_lead.value
        )


@dataclass(frozen=True, slots=True)
class Lamp:
    """A position lamp: it is lit while its contact is closed."""

    name: str
    colour: str
    contact: int


@dataclass(frozen=True, slots=True)
class Rotor:
    """A rotor of the limit switch.

    Args:
        name: as the technician calls it.
        contacts: numbers of the contacts that it moves, one to four.
        place: where in travel it is set.
        set_while: the direction of travel in which it is meant to change over.
    """

    name: str
    contacts: tuple[int, ...]
    place: Place
    set_while: Travel


@dataclass(frozen=True, slots=True)
class Sheet:
    """A unit sheet.

    Args:
        tag: how the plant names the actuator.
        service: what the valve does.
        drawing: number of the drawing that shows the contact development.
        revision: revision of that drawing.
        seating: what stops the valve at its closed end.
        rotors: two or four.
        development: closed intervals of every contact over travel.
        lamps: the position lamps and the contacts that light them.
        stroke_turns: handwheel turns of the full stroke.
        back_off_open: handwheel turns back from the open stop.
        back_off_torque: handwheel turns back from the closed stop of a torque-seated valve.
        back_off_position: the same of a position-seated valve.
        cycle_revolutions: shaft revolutions between two change-overs of a rotor, where known.
        tolerance: how far apart the edges of one rotor may be drawn, and how far from the drawing
            its trip may be, in percent of travel.
        spoken: how the tag is spoken where it is not spelled; None where it is.
        bypass: the contact that bypasses the torque switch, where there is one.
        stated_seconds: how long a full electrical stroke takes, where the sheet states it.
        drive: what drives the valve, from which the stroke time follows, where it is known.
        stroke_time_tolerance: how far a measured stroke time may be from the data, in percent.
    """

    tag: str
    service: str
    drawing: str
    revision: str
    seating: Seating
    rotors: tuple[Rotor, ...]
    development: Development
    lamps: tuple[Lamp, ...]
    stroke_turns: Sourced
    back_off_open: Sourced
    back_off_torque: Sourced
    back_off_position: Sourced
    cycle_revolutions: Sourced | None
    tolerance: Sourced
    spoken: str | None = None
    bypass: int | None = None
    stated_seconds: Sourced | None = None
    drive: Drive | None = None
    stroke_time_tolerance: Sourced = DEFAULT_STROKE_TIME_TOLERANCE

    @property
    def back_offs(self) -> dict[str, Sourced]:
        """Every back-off by its name in the sheet."""
        return {
            "back_off_open": self.back_off_open,
            "back_off_torque": self.back_off_torque,
            "back_off_position": self.back_off_position,
        }

    def back_off_at(self, place: Place) -> Sourced | None:
        """Handwheel turns back from the stop at which a rotor is set; None for one in travel."""
        match place:
            case Place.OPEN_END:
                return self.back_off_open
            case Place.CLOSED_END if self.seating is Seating.TORQUE:
                return self.back_off_torque
            case Place.CLOSED_END:
                return self.back_off_position
            case Place.TRAVEL:
                return None

    @property
    def numbers(self) -> dict[str, Sourced]:
        """Every number that the sheet states, by its name there."""
        known = {"stroke_turns": self.stroke_turns, **self.back_offs, "tolerance": self.tolerance}
        known["stroke_time_tolerance"] = self.stroke_time_tolerance
        if self.cycle_revolutions is not None:
            known["cycle_revolutions"] = self.cycle_revolutions
        if self.stated_seconds is not None:
            known["stroke_seconds"] = self.stated_seconds
        if self.drive is not None:
            known.update(self.drive.numbers)
        return known
