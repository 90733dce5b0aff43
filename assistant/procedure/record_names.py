"""Names under which a procedure records what the program reads again.

The record of a job and the comparison with an independent check go by these names, whatever part
recorded them; any other name is kept and shown as it is. A signature is any name with ``signed-``
before what it means, and with ``-at`` behind it the moment of it (21 CFR 11.50).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assistant.procedure.values import Kind

__all__ = ["RECORD_NAMES", "SIGNED", "Recorded", "recorded_as", "signs", "time_of"]

SIGNED = "signed-"
_AT = "-at"


@dataclass(frozen=True, slots=True)
class Recorded:
    """What stands under a name.

    Args:
        kinds: the kinds of which it may be.
        unit: of a number.
    """

    kinds: frozenset[Kind]
    unit: str | None = None


def _of(*kinds: Kind, unit: str | None = None) -> Recorded:
    return Recorded(frozenset(kinds), unit)


_READ = (Kind.TEXT, Kind.LETTERS)

RECORD_NAMES: Mapping[str, Recorded] = {
    "tag": _of(*_READ),
    "drawing-revision": _of(*_READ),
    "seats-on": _of(*_READ),
    "last-lamp-and-stop": _of(*_READ),
    "as-found": _of(Kind.TEXT),
    "trip-as-found": _of(Kind.TRIP),
    "left-as-found": _of(Kind.TEXT),
    "as-checked": _of(Kind.TEXT),
    "trip-as-checked": _of(Kind.TRIP),
    "as-left": _of(Kind.TRIP),
    "before-setting": _of(Kind.READING),
    "after-setting": _of(Kind.READING),
    "before-the-trip": _of(Kind.READING),
    "at-closed-stop": _of(Kind.READING),
    "then": _of(Kind.READING),
    "at-open-stop": _of(Kind.READING),
    "shaft-turned": _of(Kind.ROTATION),
    "shaft-turned-cranking": _of(Kind.TRAVEL),
    "lamps-in-travel": _of(Kind.LAMPS),
    "lamps-when-closed": _of(Kind.LAMPS),
    "lamps-when-open": _of(Kind.LAMPS),
    "counted-stroke": _of(Kind.NUMBER, unit="turns"),
    "disk-left-seat-at": _of(Kind.NUMBER, unit="turns"),
    "stopped-before-the-stop": _of(Kind.NUMBER, unit="turns"),
    "stroke-time": _of(Kind.NUMBER, unit="seconds"),
}
"""Every name that means something, and what stands under it."""


def recorded_as(name: str) -> Recorded | None:
    """What has to stand under a name; None where the program does not read it again."""
    if signs(name):
        return _of(Kind.LETTERS)
    if name.startswith(SIGNED):
        return _of(Kind.MOMENT)
    return RECORD_NAMES.get(name)


def signs(name: str) -> bool:
    """Whether what is recorded under a name is a signature.

    >>> signs("signed-done"), signs("signed-done-at")
    (True, False)
    """
    return name.startswith(SIGNED) and not name.endswith(_AT)


def time_of(name: str) -> str:
    """The name under which the moment of a signature is recorded.

    >>> time_of("signed-done")
    'signed-done-at'
    """
    return f"{name}{_AT}"
