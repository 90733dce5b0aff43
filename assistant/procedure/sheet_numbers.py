"""The numbers of a unit sheet, each with its unit and where it comes from."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.procedure.fields import DECIMAL, Fields, as_text, read_each
from assistant.procedure.located import Located, ScalarNode
from assistant.procedure.problems import Place, refuse
from assistant.trade.travel import (
    DEFAULT_BACK_OFF_OPEN,
    DEFAULT_BACK_OFF_POSITION,
    DEFAULT_BACK_OFF_TORQUE,
)
from assistant.trade.unit import (
    DEFAULT_STROKE_TIME_TOLERANCE,
    DEFAULT_TOLERANCE,
    Drive,
    Sourced,
)

__all__ = ["DEFAULTS", "DRIVE", "UNITS", "read_drive", "read_numbers"]

DRIVE: Mapping[str, str] = {
    "stem-travel": "mm",
    "gear-ratio": "to one",
    "motor-speed": "rpm",
    "stem-lead": "mm",
}
"""The numbers of the drive, of which all or none are stated."""

UNITS: Mapping[str, str] = {
    "stroke-turns": "turns",
    "back-off-open": "turns",
    "back-off-torque": "turns",
    "back-off-position": "turns",
    "tolerance": "%",
    "cycle-revolutions": "revolutions",
    "stroke-seconds": "seconds",
    "stroke-time-tolerance": "%",
    **DRIVE,
}
"""The numbers that a sheet may state, and the unit of each."""

DEFAULTS: Mapping[str, Sourced] = {
    "back-off-open": DEFAULT_BACK_OFF_OPEN,
    "back-off-torque": DEFAULT_BACK_OFF_TORQUE,
    "back-off-position": DEFAULT_BACK_OFF_POSITION,
    "tolerance": DEFAULT_TOLERANCE,
    "stroke-time-tolerance": DEFAULT_STROKE_TIME_TOLERANCE,
}
"""What counts where the sheet is silent."""


def read_numbers(value: Located) -> dict[str, Sourced]:
    """Read the numbers that a sheet states, by their names.

    Args:
        value: the sheet's ``numbers:``.

    Raises:
        FileRefused: the stroke is not there, a number is not known, or one has no origin.
    """
    fields = Fields(value, "'numbers'")
    fields.need("stroke-turns")
    given = {name: found for name in UNITS if (found := fields.take(name)) is not None}
    fields.finish()
    return dict(read_each(given.items(), lambda entry: (entry[0], _number(*entry))))


def read_drive(stated: Mapping[str, Sourced], place: Place) -> Drive | None:
    """The drive of which the stroke time follows; None where the sheet states nothing of it.

    Args:
        stated: the numbers of the sheet.
        place: of ``numbers:``, for messages.

    Raises:
        FileRefused: only a part of the drive is stated.
    """
    given = [name for name in DRIVE if name in stated]
    if not given:
        return None
    if missing := [name for name in DRIVE if name not in stated]:
        message = f"for the stroke time also state {', '.join(missing)}, or none of the drive"
        refuse(place, message, "unit")
    return Drive(*(stated[name] for name in DRIVE))


def _number(name: str, value: Located) -> Sourced:
    if isinstance(value, ScalarNode):
        number = value.text if DECIMAL.fullmatch(value.text) else "1.5"
        message = (
            f"'{name}' must say where its number comes from: write "
            f"'{{value: {number}, origin: …}}', and for the dots who or what says so"
        )
        refuse(value.place, message, "type")
    fields = Fields(value, f"'{name}'")
    _refuse_comma(fields)
    sourced = Sourced(fields.number("value"), UNITS[name], fields.prose("origin"))
    fields.finish()
    return sourced


def _refuse_comma(fields: Fields) -> None:
    """Refuse ``{value: 1,5, …}``, in which YAML takes the 5 for a field of its own."""
    for name in fields.names():
        if name.isdecimal():
            whole = as_text(fields.need("value"), "'value'")
            message = f"the comma ends the number: write '{whole}.{name}', with a point"
            refuse(fields.place_of(name), message, "type")
